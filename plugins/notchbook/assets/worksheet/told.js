/* Complaints beside the fields that they are about. */

(function (worksheet) {
  "use strict";

  const { fieldKey } = worksheet.form;

  // colour is never the only sign of how grave a complaint is
  const GRAVITY = { error: "Error", warning: "Warning", note: "Note", sofar: "So far" };

  function element(tag, className, ...parts) {
    const made = document.createElement(tag);
    made.className = className;
    made.append(...parts);
    return made;
  }

  /* The field of a place on the page. */
  function idOf(place) {
    return `nb-ws-${fieldKey(place).replace(/[._]/g, "-")}`;
  }

  /* Shows every complaint under its field. A new one waits while its field is being typed in: half a number is most
     often wrong, and a line that comes and goes at every digit helps nobody. */
  function tell(form, findings, placeOf, typing) {
    const byField = new Map();
    for (const finding of findings) {
      const id = idOf(placeOf(finding.place));
      byField.set(id, [...(byField.get(id) || []), finding]);
    }
    for (const told of form.element.querySelectorAll(".nb-ws-told")) {
      const id = told.id.slice(0, -"-told".length);
      const control = document.getElementById(id);
      const held = byField.get(id) || [];
      if (typing && control === typing && told.hidden) continue;
      told.hidden = !held.length;
      told.replaceChildren(...held.map(each =>
        element("span", `nb-${each.severity}`, element("b", "", `${GRAVITY[each.severity]}: `), each.text)));
      if (!control) continue;
      control.removeAttribute("aria-describedby");
      if (held.length) control.setAttribute("aria-describedby", told.id);
      control.setAttribute("aria-invalid", String(held.some(each => each.severity === "error")));
    }
  }

  worksheet.told = Object.freeze({ element, idOf, tell });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
