/* The fields of the worksheet: names and labels, a card for each bar, what was typed out of them and back into them. */

(function (worksheet) {
  "use strict";

  const READINGS = { angle: "rise, °", energy: "indicated, J" };

  /* Fields of text; in all others but the date a number is typed. */
  const TEXTS = ["group", "batch", "id", "excluded"];

  /* The field that a place in the record belongs to: on the page a reading has one name on either scale. */
  function fieldKey(place) {
    return place.replace(/(rise_angle_deg|indicated_energy_J)$/, "reading")
      .replace(/(first|second|later)_(?:rise_deg|indicated_energy_J)$/, "$1");
  }

  class Form {
    constructor(element, data) {
      this.element = element;
      this.data = data;
      this.cards = element.querySelector(".nb-ws-bars");
      this.template = element.querySelector("template");
      this.row = this.template.dataset.row;
      this.controls = element.querySelectorAll("[data-key]");
      for (const control of this.controls) this.name(control, control.dataset.key);
      for (const whole of element.querySelectorAll("[data-told]")) this.tellIn(whole, whole.dataset.told);
    }

    /* Ties a control to its label and to the line below it that tells what is wrong, and asks a phone for its keys. */
    name(control, key) {
      const id = `nb-ws-${key.replace(/[._]/g, "-")}`;
      control.id = id;
      control.parentElement.querySelector("label").htmlFor = id;
      this.tellIn(control.parentElement, key);
      if (control.tagName !== "INPUT") return;
      control.enterKeyHint = "next";
      const name = key.slice(key.lastIndexOf(".") + 1);
      if (control.type === "text" && !TEXTS.includes(name)) {
        control.inputMode = name.startsWith("half_swings") ? "numeric" : "decimal";
      }
    }

    tellIn(parent, key) {
      const told = document.createElement("p");
      told.className = "nb-ws-told";
      told.id = `nb-ws-${key.replace(/[._]/g, "-")}-told`;
      told.hidden = true;
      parent.append(told);
    }

    get bars() {
      return Array.from(this.cards.children);
    }

    /* A card for one more bar, numbered on from the last; false where there are as many as can be evaluated. */
    addBar(values = {}) {
      const row = this.bars.length;
      if (row >= this.data.rows.most) return false;
      const card = this.template.content.firstElementChild.cloneNode(true);
      this.cards.append(card);
      for (const control of card.querySelectorAll("[data-name]")) {
        this.name(control, `${this.template.dataset.list}.${row}.${control.dataset.name}`);
        control.value = values[control.dataset.name] || "";
      }
      this.showRow(card, row, values);
      this.showScale();
      return true;
    }

    /* What is a card's own: its number, and of a bar a mark to change, a line for what it gave and a reason. */
    showRow(card, row, values) {
      for (const label of card.querySelectorAll("[data-scale=row]")) label.dataset.scale = `${row + 1}:`;
      const id = card.querySelector("[data-name=id]");
      if (!id) return;
      this.tellIn(card.querySelector(".nb-ws-found").parentElement, `${this.template.dataset.list}.${row}`);
      if (values.id === undefined) id.value = String(row + 1).padStart(2, "0");
      card.querySelector("legend").textContent = `Bar ${row + 1}`;
      card.querySelector("details").open = Boolean(values.excluded);
    }

    removeBar() {
      this.cards.lastElementChild.remove();
    }

    /* Whether anything but its number was entered for the last bar. */
    get lastIsFilled() {
      const controls = this.cards.lastElementChild.querySelectorAll("[data-name]");
      return Array.from(controls).some(control => control.dataset.name !== "id" && control.value.trim());
    }

    get rig() {
      return this.data.rigs[this.control("rig").value];
    }

    /* The hammers of the chosen rig to choose from, and its scale in the labels of the readings. */
    showRig() {
      const { rig } = this;
      const select = this.control("hammer");
      const chosen = select.value;
      const first = select.options[0];
      select.replaceChildren(first);
      first.textContent = rig ? "Choose" : "Choose the rig first";
      for (const [id, hammer] of Object.entries(rig ? rig.hammers : {})) select.append(new Option(hammer.title, id));
      select.disabled = !rig;
      this.choose(select, chosen);
      this.showScale();
    }

    /* A choice that is there, or the only one, or none. */
    choose(select, value) {
      select.value = value;
      if (select.selectedIndex < 0) select.value = "";
      if (!select.value && !select.disabled && select.options.length === 2) select.selectedIndex = 1;
    }

    showScale() {
      const { rig } = this;
      const words = rig ? READINGS[rig.reads] : "reading";
      for (const label of this.element.querySelectorAll("[data-scale]")) {
        const text = `${label.dataset.scale} ${words}`.trim();
        label.textContent = text[0].toUpperCase() + text.slice(1);
      }
    }

    control(key) {
      return this.element.querySelector(`select[data-key="${key}"], input[data-key="${key}"]`);
    }

    /* Everything that was typed, as texts. */
    values() {
      const fields = {};
      for (const control of this.controls) fields[control.dataset.key] = control.value;
      const bars = this.bars.map(card => {
        const bar = {};
        for (const control of card.querySelectorAll("[data-name]")) bar[control.dataset.name] = control.value;
        return bar;
      });
      return { fields, bars };
    }

    /* Texts into the fields. Without any the form is as for a new group: today's date and empty bars. */
    fill(raw) {
      const fields = raw ? raw.fields : { date: worksheet.checksDay.today() };
      for (const control of this.controls) {
        if (control.tagName === "SELECT") this.choose(control, fields[control.dataset.key] || "");
        else control.value = fields[control.dataset.key] || "";
      }
      this.showRig();
      this.choose(this.control("hammer"), fields.hammer || "");
      const swings = this.element.querySelector("details[data-told]");
      if (swings) swings.open = Array.from(swings.querySelectorAll("[data-key]")).some(control => control.value);
      this.cards.replaceChildren();
      const bars = raw ? raw.bars : Array(this.data.rows.first).fill({});
      for (const bar of bars) this.addBar(bar);
      if (!bars.length) this.addBar();
    }
  }

  worksheet.form = Object.freeze({ Form, fieldKey });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
