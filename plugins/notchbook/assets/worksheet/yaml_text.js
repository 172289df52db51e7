/* Texts, numbers and mappings of a YAML file that any reader of YAML takes for what they are. */

(function (worksheet) {
  "use strict";

  const WORD = /^[A-Za-z][A-Za-z0-9-]*$/;
  // what one or the other reader of YAML takes for something else than text
  const TAKEN = /^(?:true|false|null|yes|no|on|off)$/i;
  const SHORT = { "\n": "\\n", "\r": "\\r", "\t": "\\t", '"': '\\"', "\\": "\\\\" };
  // what ends a line, turns it, or is no character that may be printed (YAML 1.2.2, 5.1 and 5.7)
  const ESCAPED = /["\\\u0000-\u001f\u007f-\u00a0\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]/g;
  // half of a character beyond U+FFFF, which no file can hold
  const HALVES = /\p{Surrogate}/gu;

  /* Any text in double quotes, on one line. */
  function quoted(text) {
    const whole = text.replace(/\r\n?/g, "\n").replace(HALVES, "\ufffd");
    const escape = character => SHORT[character] || "\\u" + character.charCodeAt(0).toString(16).padStart(4, "0");
    return `"${whole.replace(ESCAPED, escape)}"`;
  }

  /* A word as it is, any other text in quotes. */
  function scalar(text) {
    return WORD.test(text) && !TAKEN.test(text) ? text : quoted(text);
  }

  /* A number as it was typed. */
  function written(number) {
    return number.written;
  }

  /* A mapping on one line; what there is none of is left out. */
  function mapping(pairs) {
    const there = pairs.filter(([, value]) => value);
    return `{${there.map(([key, value]) => `${key}: ${value}`).join(", ")}}`;
  }

  function numbers(values) {
    return mapping(Object.entries(values).map(([key, value]) => [key, value && written(value)]));
  }

  /* The lines of a file, a key each; what there is none of is left out. */
  function file(lines) {
    return lines.filter(([, value]) => value).map(([key, value]) =>
      (value.startsWith("\n") ? `${key}:${value}\n` : `${key}: ${value}\n`)).join("");
  }

  /* A name for a file that is an id, in small letters. */
  function fileName(parts, ending) {
    const id = parts.filter(Boolean).join("-").toLowerCase().replace(/[^a-z0-9.]+/g, "-").replace(/^[-.]+|[-.]+$/g, "");
    return `${id}.${ending}`;
  }

  worksheet.yamlText = Object.freeze({ quoted, scalar, written, mapping, numbers, file, fileName });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
