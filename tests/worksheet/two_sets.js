/* What the page of two sets says of every pair of a job. */

"use strict";

const vm = require("node:vm");
const job = JSON.parse(require("node:fs").readFileSync(0, "utf8"));
const context = vm.createContext({});
for (const [name, source] of job.scripts) new vm.Script(source, { filename: name }).runInContext(context);
const { sets } = job.data;
const told = context.notchbookWorksheet.twoSets;
process.stdout.write(JSON.stringify(sets.map(a => sets.map(b => told.told(a, b, job.data)))));
