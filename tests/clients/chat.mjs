// The official client of the Model Context Protocol in TypeScript, an independent peer of the chat door. Where its package is installed is told
// by a second argument. Run: node chat.mjs http://127.0.0.1:8080 folder-of-node-modules
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [address, modules] = process.argv.slice(2);
const installed = createRequire(join(resolve(modules), "package.json"));
const load = (name) => import(pathToFileURL(installed.resolve(`@modelcontextprotocol/sdk/${name}`)));
const { Client } = await load("client/index.js");
const { StreamableHTTPClientTransport } = await load("client/streamableHttp.js");

const client = new Client({ name: "larkrise", version: "1" });
const transport = new StreamableHTTPClientTransport(new URL("/mcp", address));
await client.connect(transport);
console.log("revision", transport.protocolVersion);
assert.equal(client.getServerVersion().name, "evencrumb");

const call = (name, args) => client.callTool({ name, arguments: args });
const { tools } = await client.listTools();
const names = tools.map(({ name }) => name);
for (const name of ["convert", "pan_scale", "batch", "ratio_check", "look_up"]) assert.ok(names.includes(name), `${name} is not in ${names}`);
for (const { name, annotations } of tools) assert.ok(annotations.readOnlyHint && annotations.idempotentHint && !annotations.openWorldHint, name);

const butter = await call("convert", { amount: "1 1/2 sticks", ingredient: "butter", to: "g" });
assert.ok(!butter.isError && Math.abs(butter.structuredContent.result.value - 170.1) < 0.1, JSON.stringify(butter));
console.log(butter.content[0].text.split("\n")[0]);

const lines = [
  { ingredient: "bread flour", amount: "1 kg" },
  { ingredient: "water", amount: "660 g" },
  { ingredient: "salt", amount: "20 g" },
  { ingredient: "instant yeast", amount: "7 g" },
];
const formula = { name: "Larkrise table bread", style: "lean-dough", parts: [{ name: "dough", lines }] };
const balance = await call("ratio_check", { formula });
assert.ok(balance.structuredContent.findings.every(({ verdict }) => verdict === "within"), JSON.stringify(balance));
console.log(balance.content[0].text.split("\n")[0]);

// Nothing but the error's text is read: at every place named, the first thing to try.
const question = { amount: "2 cups", ingredient: "wheat fluor", to: "g" };
const refused = await call("convert", question);
assert.ok(refused.isError, JSON.stringify(refused));
console.log(refused.content[0].text);
for (const [, field, attempt] of refused.content[0].text.matchAll(/^\d+\. \/(\S+) .*?Try: "([^"]+)"/gm)) question[field] = attempt;
const again = await call("convert", question);
assert.ok(!again.isError && again.structuredContent.result.unit === "g", JSON.stringify(again));

await assert.rejects(call("bake", {}), /no tool bake/);
await client.close();
console.log("the official client in TypeScript: 5 passed, 0 failed");
