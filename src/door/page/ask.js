// One question on the page: its text, the lines that ask it elsewhere, sending it, and showing what came back.

/** The question as the parameters of an address; nothing where it does not fit into one. */
function asAddress(path, question) {
  const parameters = new URLSearchParams();
  for (const [name, value] of Object.entries(question)) {
    if (typeof value === "string") parameters.set(name, value);
    else if (plainObject(value) && "unit" in value) parameters.set(name, `${value.value} ${value.unit}`);
    else return null;
  }
  return `${HERE}${path}?${parameters}`;
}

function asCurl(path, question, explain) {
  const body = JSON.stringify(question).replaceAll("'", "'\\''");
  return `curl '${HERE}${path}${explain ? "?explain=true" : ""}' -H 'Content-Type: application/json' -d '${body}'`;
}

/** A line to take elsewhere, with a button that copies it. */
function takeaway(title, id) {
  const line = make("pre", { id, tabindex: "0", role: "group", "aria-label": title });
  const button = make("button", { type: "button", class: "small" });
  const says = (word) => {
    button.textContent = word;
    button.setAttribute("aria-label", `${word}: ${title}`);
  };
  says("Copy");
  button.addEventListener("click", async () => {
    // A page over plain HTTP from another machine has no clipboard.
    const copied = navigator.clipboard ? await navigator.clipboard.writeText(line.textContent).then(() => true, () => false) : false;
    if (!copied) getSelection().selectAllChildren(line);
    says(copied ? "Copied" : "Selected, to be copied by hand");
    setTimeout(() => says("Copy"), 2000);
  });
  return { line, whole: make("div", {}, make("div", { class: "row" }, make("h3", {}, title), button), line) };
}

/** The value at a JSON Pointer, as the object or list that holds it and the key it has there. */
function place(question, pointer) {
  const keys = pointer.split("/").slice(1).map((key) => key.replaceAll("~1", "/").replaceAll("~0", "~"));
  const last = keys.pop();
  const holder = keys.reduce((value, key) => value?.[key], question);
  return holder && typeof holder === "object" && last in holder ? { holder, last } : null;
}

/** The form of one calculation. */
class Ask {
  constructor(path, name, operation, flat) {
    this.path = path;
    const examples = operation.requestBody.content["application/json"].examples || {};
    this.examples = Object.values(examples);
    this.question = make("textarea", { id: `question-${name}`, rows: "12", spellcheck: "false", autocomplete: "off", "aria-describedby": `hint-${name}` });
    this.choice = make("select", { id: `example-${name}` }, this.examples.map((example, index) => make("option", { value: index }, example.summary)));
    this.explain = make("input", { type: "checkbox", id: `explain-${name}` });
    this.told = make("p", { class: "told", role: "status" });
    this.parts = make("div");
    this.curl = takeaway("From a command line", `curl-${name}`);
    this.address = flat ? takeaway("As an address", `address-${name}`) : null;
    this.cell = flat ? takeaway("In a spreadsheet cell", `cell-${name}`) : null;
    this.whole = this.form(name);
    this.choice.addEventListener("change", () => this.fill());
    this.question.addEventListener("input", () => this.lines());
    this.explain.addEventListener("change", () => this.lines());
    this.question.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) this.send();
    });
    this.fill();
  }

  form(name) {
    const send = make("button", { type: "submit", class: "send" }, "Send");
    const choose = this.examples.length ? make("div", { class: "row" }, make("label", { for: `example-${name}` }, "Worked example"), this.choice) : null;
    const form = make("form", { class: "ask", "aria-label": `Ask ${name}` },
      choose,
      make("label", { for: this.question.id }, "Question"),
      this.question,
      make("p", { id: `hint-${name}`, class: "path" }, "One JSON object. Control and Enter send it too."),
      make("div", { class: "row" }, send, make("label", { for: this.explain.id }, this.explain, "with the working")));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.send();
    });
    const elsewhere = make("details", {}, make("summary", {}, "Ask it from elsewhere"), [this.curl, this.address, this.cell].filter(Boolean).map((one) => one.whole));
    return make("div", {}, form, make("div", { class: "answer" }, this.told, this.parts), elsewhere);
  }

  fill() {
    const example = this.examples[Number(this.choice.value) || 0];
    this.write(example ? example.value : {});
  }

  write(question) {
    this.question.value = JSON.stringify(question, null, 2);
    this.question.rows = Math.min(24, Math.max(6, this.question.value.split("\n").length + 1));
    this.lines();
  }

  read() {
    try {
      return JSON.parse(this.question.value);
    } catch {
      return null;
    }
  }

  lines() {
    const question = this.read();
    const unread = "The question above is not JSON yet.";
    this.curl.line.textContent = question ? asCurl(this.path, question, this.explain.checked) : unread;
    if (!this.address) return;
    const address = plainObject(question) ? asAddress(this.path, question) : null;
    const none = question ? "The question above is more than an address can hold: a formula goes into the body." : unread;
    this.address.line.textContent = address ? address + (this.explain.checked ? "&explain=true" : "") : none;
    this.cell.line.textContent = address ? `=WEBSERVICE("${address}&format=text")` : none;
  }

  async send() {
    this.told.textContent = "Asking.";
    this.parts.replaceChildren();
    try {
      const response = await fetch(HERE + this.path + (this.explain.checked ? "?explain=true" : ""), {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: this.question.value,
      });
      this.show(await response.json(), response.ok);
    } catch {
      this.told.textContent = "No answer came. Is the service still running?";
    }
  }

  show(answer, good) {
    const many = Array.isArray(answer);
    this.told.textContent = many ? `${answer.length} answers, in the order of the questions.` : good ? answer.summary : `${answer.title}.`;
    const raw = make("details", {}, make("summary", {}, "The answer as it came"), make("pre", { tabindex: "0", role: "group", "aria-label": "The answer as JSON" }, JSON.stringify(answer, null, 2)));
    raw.open = many;
    this.parts.replaceChildren(...(many ? [] : good ? answerParts(answer) : this.faults(answer)), raw);
  }

  faults(problem) {
    const faults = (problem.faults || []).map((fault) =>
      make("li", {},
        make("p", {}, fault.pointer ? ["At ", make("code", {}, fault.pointer), ": "] : null, "found ", make("code", {}, fault.found), "; accepted is ", fault.accepted, "."),
        make("p", {}, fault.detail),
        fault.try?.length ? make("p", { class: "row" }, "Try: ", fault.try.map((text) => this.mend(fault, text))) : null));
    const more = problem.total > faults.length ? [make("p", {}, `${problem.total} faults in all.`)] : [];
    const link = make("p", {}, make("a", { href: HERE + problem.type }, `About ${problem.code}`));
    return [make("div", { class: "wrong" }, make("ol", {}, faults), more, link)];
  }

  /** A value to try: a button where it can take the place of what was found, else its text. */
  mend(fault, text) {
    const question = this.read();
    const there = fault.code === "unknown-field" || !question ? null : place(question, fault.pointer);
    if (!there || typeof there.holder[there.last] !== "string") return make("code", {}, text);
    const button = make("button", { type: "button", class: "small" }, text);
    button.addEventListener("click", () => {
      const now = this.read();
      const target = now && place(now, fault.pointer);
      if (!target) return;
      target.holder[target.last] = text;
      this.write(now);
      this.send();
      this.question.focus();
    });
    return button;
  }
}
