//! The desk where tools are listed and called: what the protocol's library asks of a server, and nothing else.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use rmcp::model::{
    CacheScope, CallToolRequestParams, CallToolResponse, CallToolResult, CustomRequest, CustomResult, ErrorCode, Implementation,
    JsonObject, ListPromptsResult, ListResourcesResult, ListToolsResult, PaginatedRequestParams, ProtocolVersion, ServerCapabilities,
    ServerConfig,
};
use rmcp::service::RequestContext;
use rmcp::{ErrorData, RoleServer, ServerHandler};
use serde_json::Value;

use super::{look_up, told, tool};
use crate::calculation::{Entry, Options};
use crate::door::House;
use crate::door::problem::Problem;
use crate::quantity::{Code, Fault, Pointer, nearest};

/// The revisions spoken here: those without batches of messages.
pub const REVISIONS: &[ProtocolVersion] = &[ProtocolVersion::V_2025_06_18, ProtocolVersion::V_2025_11_25, ProtocolVersion::V_2026_07_28];
/// The tools change only with the program.
const FRESH_MILLISECONDS: u64 = 3_600_000;

const INSTRUCTIONS: &str = "The arithmetic of baking formulas, each figure from a published source. Ask these tools rather than reckon: \
amounts go in as people write them (\"1 1/2 cups\"). Tell the person the cautions that an answer carries, and its span where it has one. \
An error names every fault with its place, what is accepted and what to try: mend and call again. Answers are kept short; \"full\": true gives everything, with the working.";

/// Why a call was refused, told to the log beside the answer.
#[derive(Clone, Default)]
pub struct Noted(Arc<OnceLock<Code>>);

impl Noted {
    /// There is one call a request.
    fn note(&self, code: Code) {
        self.0.get_or_init(|| code);
    }

    pub fn code(&self) -> Option<Code> {
        self.0.get().copied()
    }
}

/// The desk of one request.
#[derive(Clone)]
pub struct Desk {
    house: &'static House,
}

impl Desk {
    pub fn new(house: &'static House) -> Self {
        Self { house }
    }

    /// What a call gets: the answer or why there is none, and the code of that. Nothing where there is no such tool.
    pub fn result(&self, call: CallToolRequestParams) -> Option<(CallToolResult, Option<Code>)> {
        let tool = tool::named(&call.name)?;
        Some(match self.called(&tool.name, call.arguments.unwrap_or_default()) {
            Ok(told) => (told.result(), None),
            Err(problem) => (told::refusal(&tool.name, &problem), Some(problem.code())),
        })
    }

    fn called(&self, name: &str, mut arguments: JsonObject) -> Result<told::Told, Problem> {
        let full = full(&mut arguments)?;
        if name == look_up::NAME {
            return look_up::answer(self.house, &arguments, full);
        }
        let entry = tool::entry(name).ok_or_else(|| Problem::new(Code::OurFault, name, "a tool"))?;
        told::answer(&self.computed(entry, arguments, full)?, full)
    }

    fn computed(&self, entry: &Entry, arguments: JsonObject, full: bool) -> Result<Vec<u8>, Problem> {
        // An object that was read from JSON is written again without fail.
        let question = serde_json::to_vec(&Value::Object(arguments)).unwrap_or_default();
        Ok(entry.answer(&question, self.house.reference, Options { explain: full, ..Options::default() })?)
    }
}

/// Whether everything is wanted; taken out, for it is no field of a question.
fn full(arguments: &mut JsonObject) -> Result<bool, Problem> {
    match arguments.shift_remove(tool::FULL) {
        None | Some(Value::Null) => Ok(false),
        Some(Value::Bool(full)) => Ok(full),
        Some(other) => {
            Err(Fault::new(&Pointer::ROOT.key(tool::FULL), Code::WrongType, other.to_string(), "true or false").trying(["true"]).into())
        }
    }
}

impl ServerHandler for Desk {
    fn get_info(&self) -> ServerConfig {
        let identity =
            Implementation::new("evencrumb", env!("CARGO_PKG_VERSION")).with_title("evencrumb: the arithmetic of baking formulas");
        ServerConfig::new(ServerCapabilities::builder().enable_tools().build()).with_server_info(identity).with_instructions(INSTRUCTIONS)
    }

    fn supported_protocol_versions(&self) -> Cow<'static, [ProtocolVersion]> {
        Cow::Borrowed(REVISIONS)
    }

    async fn list_tools(&self, _: Option<PaginatedRequestParams>, _: RequestContext<RoleServer>) -> Result<ListToolsResult, ErrorData> {
        let mut listed = ListToolsResult::with_all_items(tool::all().to_vec()).with_ttl_ms(FRESH_MILLISECONDS);
        listed.cache_scope = Some(CacheScope::Public);
        Ok(listed)
    }

    async fn call_tool(&self, call: CallToolRequestParams, context: RequestContext<RoleServer>) -> Result<CallToolResponse, ErrorData> {
        let name = call.name.clone();
        let (result, code) = self.result(call).ok_or_else(|| no_such_tool(&name))?;
        let parts = context.extensions.get::<http::request::Parts>();
        if let (Some(code), Some(noted)) = (code, parts.and_then(|parts| parts.extensions.get::<Noted>())) {
            noted.note(code);
        }
        Ok(result.into())
    }

    /// A call that the library could not read as one is told its shape; other methods there are not.
    async fn on_custom_request(&self, request: CustomRequest, _: RequestContext<RoleServer>) -> Result<CustomResult, ErrorData> {
        if request.method == "tools/call" {
            let text =
                "The params of tools/call are an object with \"name\", a text, and \"arguments\", an object (not a text with JSON in it).";
            return Err(ErrorData::invalid_params(text, None));
        }
        if request.method == "initialize" {
            let text = "The params of initialize are an object with \"protocolVersion\", a text, \"capabilities\", an object, and \"clientInfo\", an object with \"name\" and \"version\".";
            return Err(ErrorData::invalid_params(text, None));
        }
        Err(no_such_method(&request.method))
    }

    async fn list_resources(
        &self,
        _: Option<PaginatedRequestParams>,
        _: RequestContext<RoleServer>,
    ) -> Result<ListResourcesResult, ErrorData> {
        Err(no_such_method("resources/list"))
    }

    async fn list_prompts(&self, _: Option<PaginatedRequestParams>, _: RequestContext<RoleServer>) -> Result<ListPromptsResult, ErrorData> {
        Err(no_such_method("prompts/list"))
    }
}

fn no_such_method(name: &str) -> ErrorData {
    let shown: String = name.chars().take(60).collect();
    ErrorData::new(ErrorCode::METHOD_NOT_FOUND, format!("There is no method {shown}; there are tools/list and tools/call."), None)
}

fn no_such_tool(name: &str) -> ErrorData {
    let names = || tool::all().iter().map(|tool| &*tool.name);
    let near = nearest(&name.replace('-', "_"), names(), 1).first().map_or_else(String::new, |near| format!("; the nearest is {near}"));
    let shown: String = name.chars().take(60).collect();
    ErrorData::invalid_params(format!("There is no tool {shown}{near}. The tools are {}.", names().collect::<Vec<_>>().join(", ")), None)
}
