/* Starts the worksheet of a page: what is typed is computed, checked, shown and kept; the buttons do their work. */

(function (worksheet) {
  "use strict";

  // a pause of this long and no more is being typed
  const PAUSE_ms = 700;

  class Sheet {
    constructor(element, data) {
      this.element = element;
      this.data = data;
      this.kind = worksheet[data.kind];
      this.form = new worksheet.form.Form(element, data);
      this.state = worksheet.state.open(data.exercise, element.dataset.site);
      this.timer = 0;
    }

    part(name) {
      return this.element.querySelector(`.nb-ws-${name}`);
    }

    /* What was typed, what is wrong with it and what it gives. */
    evaluated() {
      const read = this.kind.read(this.form.values(), this.data);
      const found = this.kind.evaluate(read.record, this.data);
      return { read, found, findings: this.kind.check(read, this.data, found) };
    }

    /* The file of the record; null where something is missing or is nothing that a file may hold. */
    yaml() {
      const { read } = this.evaluated();
      if (read.missing.length || read.refused.length) return null;
      return this.kind.yaml(read.record, this.data);
    }

    csv() {
      const { read, found } = this.evaluated();
      return this.kind.csv(read.record, this.data, found);
    }

    fileName(ending) {
      return this.kind.fileName(this.evaluated().read.record, this.data, ending);
    }

    show(typing) {
      const { read, found, findings } = this.evaluated();
      const words = this.kind.show(this.form, read, findings, found, typing);
      this.part("file").textContent = this.fileName("yaml");
      const left = read.record.untouched;
      this.part("left").textContent = left.length && left.length < this.form.bars.length
        ? `Empty and not in the file: bar ${left.join(", ")}.` : "";
      return words;
    }

    /* After every change: kept at once, told at once but for the field that is being typed in. */
    changed(typing) {
      this.part("unkept").hidden = this.state.save(this.form.values());
      this.part("missing").hidden = true;
      this.show(typing);
      clearTimeout(this.timer);
      this.timer = setTimeout(() => {
        this.part("status").textContent = this.show(null);
      }, PAUSE_ms);
    }

    download(text, name, type) {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([text], { type }));
      link.download = name;
      document.body.append(link);
      link.click();
      link.remove();
      setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    }

    take() {
      const text = this.yaml();
      if (text === null) this.showMissing();
      else this.download(text, this.fileName("yaml"), "application/yaml");
    }

    /* What keeps the file from being written, each with a way to its field. */
    showMissing() {
      const { read } = this.evaluated();
      const wanted = [
        ...read.missing,
        ...read.refused.map(each => ({ place: each.place, words: each.text })),
      ].map(each => ({ ...each, id: worksheet.told.idOf(this.kind.onPage(each.place, read.record)) }));
      const items = wanted.map(each => {
        const target = document.getElementById(each.id) || this.element.querySelector("[data-add]");
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = each.words;
        button.addEventListener("click", () => target.focus());
        const item = document.createElement("li");
        item.append(button);
        return item;
      });
      const box = this.part("missing");
      box.hidden = false;
      box.querySelector("ul").replaceChildren(...items);
      box.focus();
    }

    /* Asks before something is thrown away. */
    ask(question, answer, yes, asker) {
      const box = this.part("ask");
      const [sure, keep] = box.querySelectorAll("button");
      box.querySelector("p").textContent = question;
      sure.textContent = answer;
      const close = () => {
        box.hidden = true;
        asker.focus();
      };
      sure.onclick = () => {
        yes();
        close();
      };
      keep.onclick = close;
      asker.closest(".nb-ws-buttons").after(box);
      box.hidden = false;
      keep.focus();
    }

    clear() {
      clearTimeout(this.timer);
      this.state.clear();
      this.form.fill(null);
      this.part("missing").hidden = true;
      this.part("status").textContent = "Cleared. " + this.show(null);
    }

    removeBar(button) {
      const remove = () => {
        this.form.removeBar();
        this.changed(null);
      };
      if (this.form.bars.length < 2) return;
      if (!this.form.lastIsFilled) remove();
      else this.ask(`The last ${this.form.row} has entries. Remove it with them?`, `Remove the last ${this.form.row}`, remove, button);
    }

    listen() {
      const on = (name, act) => {
        const button = this.element.querySelector(`[data-${name}]`);
        button.addEventListener("click", () => act(button));
      };
      on("add", button => {
        button.disabled = !this.form.addBar();
        this.changed(null);
        if (!button.disabled) this.form.bars[this.form.bars.length - 1].querySelector("input").focus();
      });
      on("remove", button => {
        this.element.querySelector("[data-add]").disabled = false;
        this.removeBar(button);
      });
      on("yaml", () => this.take());
      on("csv", () => this.download(this.csv(), this.fileName("csv"), "text/csv"));
      on("clear", button => this.ask("Clear everything that was typed here? A file that you downloaded stays.",
        "Clear everything", () => this.clear(), button));
      // not every way to choose from a list tells of an input
      for (const name of ["input", "change"]) this.element.addEventListener(name, event => this.onChange(event));
      this.element.addEventListener("focusout", () => this.show(null));
      this.element.addEventListener("submit", event => event.preventDefault());
      this.element.addEventListener("keydown", event => this.onKey(event));
      window.addEventListener("storage", event => {
        if (event.key !== this.state.key) return;
        this.form.fill(this.state.parsed(event.newValue));
        this.show(null);
      });
    }

    onChange({ type, target }) {
      if (target.dataset.key === "rig") this.form.showRig();
      const typing = type === "input" && target.tagName === "INPUT" && target === document.activeElement;
      this.changed(typing ? target : null);
    }

    /* The key that ends an entry on a phone leads to the next field. */
    onKey(event) {
      if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
      event.preventDefault();
      const controls = Array.from(this.element.querySelectorAll("input, select, textarea"))
        .filter(each => each.getClientRects().length && !each.disabled);
      const next = controls[controls.indexOf(event.target) + 1];
      if (next) next.focus();
    }

    start() {
      this.form.fill(this.state.load());
      this.listen();
      this.show(null);
      this.element.hidden = false;
    }
  }

  /* The worksheet of the page, where there is one that was not started yet. */
  function start() {
    const element = document.querySelector("form.nb-worksheet[hidden]");
    if (!element) return;
    worksheet.sheet = new Sheet(element, JSON.parse(element.querySelector(".nb-worksheet-data").textContent));
    worksheet.sheet.start();
  }

  // a theme that changes pages without loading them anew runs the scripts of each page again
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
