// Prints the scores of one page from its reports, and the audits that keep a category below 100; ends with 1 when accessibility,
// best practices or SEO is below.
"use strict";

const fs = require("fs");

const [path, ...files] = process.argv.slice(2);
const reports = files.map((f) => JSON.parse(fs.readFileSync(f, "utf8")));
const median = (list) => list.sort((a, b) => a - b)[Math.floor(list.length / 2)];
const score = (name) => median(reports.map((r) => Math.round(100 * r.categories[name].score)));
const must = ["accessibility", "best-practices", "seo"];
console.log(`${path}: performance ${score("performance")}, ${must.map((m) => `${m} ${score(m)}`).join(", ")}`);
let short = false;
for (const name of must) {
  if (score(name) === 100) continue;
  short = true;
  for (const { id, weight } of reports[0].categories[name].auditRefs) {
    const audit = reports[0].audits[id];
    if (weight > 0 && audit.score !== null && audit.score < 1) console.log(`  ${name}: ${id}: ${audit.title}`);
  }
}
process.exitCode = short ? 1 : 0;
