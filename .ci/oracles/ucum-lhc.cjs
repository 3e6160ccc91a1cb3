// Answers [[value, code, base], …] from standard input by the UCUM library of the US National Library of Medicine; null where it does not know.
const path = require("node:path");
const { UcumLhcUtils } = require(path.join(process.env.CI_TOOLS, "node/node_modules/@lhncbc/ucum-lhc"));

const library = UcumLhcUtils.getInstance();
const questions = JSON.parse(require("node:fs").readFileSync(0, "utf8"));
const answers = questions.map(([value, code, base]) => {
  if (!code) return null;
  const answer = library.convertUnitTo(code, value, base);
  return answer.status === "succeeded" ? answer.toVal : null;
});
console.log(JSON.stringify(answers));
