/* Runs the scripts of the worksheet without a browser: every session of a job, with the scripts and the data of the page
   as they are and with each of their changes.

   A job comes as JSON from the standard input, what was found goes as JSON to the standard output. */

"use strict";

const vm = require("node:vm");
const { differs, resultDiffers } = require("./compare.js");

const job = JSON.parse(require("node:fs").readFileSync(0, "utf8"));
const scripts = job.scripts.map(([name, source]) => [name, new vm.Script(source, { filename: name })]);

/* The worksheet of a page without the page, one script changed or none; today is the day of the job. */
function loaded(changed) {
  const context = vm.createContext({});
  vm.runInContext(`{
    const Day = Date;
    globalThis.Date = class extends Day {
      constructor(...given) { super(...(given.length ? given : ["${job.day}T12:00:00"])); }
    };
  }`, context);
  for (const [name, script] of scripts) {
    (changed && changed.name === name ? new vm.Script(changed.source) : script).runInContext(context);
  }
  return context.notchbookWorksheet;
}

/* Everything that the page says of a session in words. */
function words({ words: say, progress, swingsWords }, { read, found, findings }, data) {
  if (data.kind === "swings") return { rows: swingsWords.rowsOf(found), basis: swingsWords.basis(found, read.record) };
  const shown = say.asProgress(findings, read.record);
  return {
    bars: read.record.specimens.map((bar, index) =>
      say.ofBar(bar, found && { ...found.bars[index], hammer: found.hammer }, data).map(each => each.text)),
    sets: found ? found.sets.map(set => say.ofSet(set, data).join("")) : [],
    unbroken: say.ofUnbroken(read.record, found, data),
    losses: say.ofLosses(found, read.record),
    hammer: say.ofHammer(found, data),
    state: progress.ofState(shown, read),
  };
}

function answer(worksheet, { session, words: wanted }, data) {
  const kind = worksheet[data.kind];
  const read = kind.read(session, data);
  const found = kind.evaluate(read.record, data);
  const given = { read, found, findings: kind.check(read, data, found) };
  return wanted ? { ...given, words: words(worksheet, given, data) } : given;
}

/* The files of a session as the page would give them away. */
function files(worksheet, each) {
  const data = job.datas[each.data];
  const { read, found } = answer(worksheet, each, data);
  const whole = !read.missing.length && !read.refused.length;
  const kind = worksheet[data.kind];
  return {
    yaml: whole ? kind.yaml(read.record, data) : null,
    csv: kind.csv(read.record, data, found),
    name: kind.fileName(read.record, data, "yaml"),
  };
}

// what told one change tells most often the next one too
let inTurn = job.cases.map((_, place) => place).slice(0, job.inTurn);

/* How a function of the scripts differs from its twin; null where it does not. */
function callDiffers(worksheet, [module, name, given, wanted]) {
  const result = worksheet[module][name](...given);
  const plain = JSON.parse(JSON.stringify(result === undefined ? null : result));
  const listed = plain && typeof plain === "object" && !Array.isArray(plain) ? Object.values(plain).flat() : plain;
  const why = resultDiffers(listed, wanted);
  return why && `${module}.${name}(${JSON.stringify(given)}): ${why}`;
}

/* Where and how the scripts differ from the engine first; null where they do nowhere. */
function firstToDiffer(worksheet, dataOf, places, expected) {
  for (const place of places) {
    const each = job.cases[place];
    const data = dataOf(each.data);
    if (!data) continue;
    let why;
    try {
      const told = expected ? { ...each, expected: expected[place] } : each;
      why = differs(answer(worksheet, each, data), told, job.severities);
    } catch (error) {
      why = String(error);
    }
    if (why) {
      if (places === inTurn) inTurn = [place, ...places.filter(each => each !== place)];
      return { place, why };
    }
  }
  return null;
}

const OTHERWISE = {
  number: value => value * 1.01 + 1,
  string: value => value + "x",
  boolean: value => !value,
  object: () => 1, // null
};

/* Changes in place what lies at a path, of which "*" is any key; whether anything lies there. */
function change(data, [key, ...rest]) {
  if (data === null || typeof data !== "object") return false;
  const keys = key === "*" ? Object.keys(data) : [key].filter(each => each in data);
  return keys.map(each => {
    if (rest.length) return change(data[each], rest);
    data[each] = OTHERWISE[typeof data[each]](data[each]);
    return true;
  }).some(Boolean);
}

/* The data of the page with another value at one path, by number; null where nothing lies there. */
function changedAt(path) {
  const made = new Map();
  return number => {
    if (!made.has(number)) {
      const data = structuredClone(job.datas[number]);
      made.set(number, change(data, path) ? data : null);
    }
    return made.get(number);
  };
}

const whole = loaded(null);
const asIs = number => job.datas[number];

process.stdout.write(JSON.stringify({
  differing: job.cases.map((_, place) => firstToDiffer(whole, asIs, [place])).filter(Boolean),
  files: job.filed.map(place => files(whole, job.cases[place])),
  calls: job.calls.map(call => callDiffers(whole, call)).filter(Boolean),
  scripts: job.changedScripts.map(changed => {
    try {
      const worksheet = loaded(changed);
      const call = job.calls.map(each => callDiffers(worksheet, each)).find(Boolean);
      return call ? { why: call } : firstToDiffer(worksheet, asIs, inTurn) ||
        { files: changed.filed.map(place => files(worksheet, job.cases[place])) };
    } catch (error) {
      return { why: String(error) };
    }
  }),
  data: job.changedData.map(path => firstToDiffer(whole, changedAt(path), inTurn)),
  engine: job.changedEngine.map(({ places, expected }) => firstToDiffer(whole, asIs, places, expected)),
}));
