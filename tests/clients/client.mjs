// A client in JavaScript, with fetch as a web page has it. Run: node client.mjs http://127.0.0.1:8080
import assert from "node:assert/strict";

const address = process.argv[2].replace(/\/$/, "");

class Refused extends Error {
  constructor(problem) {
    super((problem.faults ?? []).map(({ pointer, detail }) => `${pointer}: ${detail}`).join("; ") || problem.detail);
    this.problem = problem;
  }
}

/** One question by POST; the answer as an object. */
async function ask(calculation, question) {
  const response = await fetch(`${address}/v1/${calculation}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(question),
    signal: AbortSignal.timeout(10_000),
  });
  const answer = await response.json();
  if (!response.ok) throw new Refused(answer);
  return answer;
}

const lean = {
  name: "Larkrise table bread",
  style: "lean-dough",
  parts: [
    {
      name: "dough",
      lines: [
        { ingredient: "bread flour", amount: "1 kg" },
        { ingredient: "water", amount: "660 g" },
        { ingredient: "salt", amount: "20 g" },
        { ingredient: "instant yeast", amount: "7 g" },
      ],
    },
  ],
};

const butter = await ask("convert", { amount: "1 1/2 sticks", ingredient: "butter", to: "g" });
assert.ok(Math.abs(butter.result.value - 170.1) < 0.1, JSON.stringify(butter));
console.log(butter.summary);

const pans = await ask("pan-scale", { from: "8 inch round", to: "8 inch square" });
assert.ok(Math.abs(pans.factor - 4 / Math.PI) < 1e-9, JSON.stringify(pans));
console.log(pans.summary);

const batch = await ask("batch", { formula: lean, want: { pieces: 24, each: "450 g" } });
assert.ok(batch.buy.some(({ ingredient }) => ingredient === "bread flour"), JSON.stringify(batch.buy));
console.log(batch.summary);

const balance = await ask("ratio-check", { formula: lean });
assert.ok(balance.findings.every(({ verdict }) => verdict === "within"), JSON.stringify(balance.findings));
assert.ok(Math.abs(balance.hydration.added_liquid.percent - 66) < 1e-9);
console.log(balance.summary);

// A table is fetched once; afterwards the same tag answers 304 without a body.
const table = await fetch(`${address}/v1/ingredients`);
assert.ok((await table.json()).ingredients.length >= 200);
const again = await fetch(`${address}/v1/ingredients`, { headers: { "if-none-match": table.headers.get("etag") } });
assert.equal(again.status, 304);

await assert.rejects(ask("convert", { amount: "2 cups", ingredient: "wheat fluor", to: "g" }), (refused) => {
  const [fault] = refused.problem.faults;
  assert.equal(fault.pointer, "/ingredient");
  assert.ok(fault.try.length > 0, "a near name is suggested");
  console.log("refused:", refused.message);
  return true;
});
console.log("a client in JavaScript: 6 passed, 0 failed");
