/* The search of a site that stands by itself: words and beginnings of words, all of which have to be there. What it looks
   through is a script beside the pages, fetched when somebody turns to the search; so it works from a disk too. */

(function () {
  "use strict";
  const box = document.querySelector(".nb-search");
  const field = box.querySelector("input");
  const list = box.querySelector("ol");
  const status = box.querySelector("[role=status]");
  const base = new URL("../", document.currentScript.src);
  const MOST_SHOWN = 30;
  const AROUND = 70;
  let pages = null;
  let asked = null;

  function plain(text) {
    return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  }

  function words(text) {
    return plain(text).match(/[\p{L}\p{N}]+(?:[.,-][\p{L}\p{N}]+)*/gu) || [];
  }

  /* Fetches the index once; what is compared is made of each text then. */
  function load() {
    asked = asked || new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = box.dataset.index;
      script.addEventListener("load", () => {
        pages = self.notchbookPages.map(([path, title, boost, day, parts]) => ({
          path, title, boost, day, name: plain(title),
          parts: parts.map(([anchor, heading, text]) => ({ anchor, heading, text, name: plain(heading), plain: plain(text) })),
        }));
        resolve();
      });
      script.addEventListener("error", () => {
        asked = null;
        script.remove();
        reject(new Error("the index cannot be read"));
      });
      document.head.append(script);
    });
    return asked;
  }

  /* 2 where the text has the word, 1 where it has one that begins so, 0 where it has neither. */
  function has(text, word) {
    let best = 0;
    for (let at = text.indexOf(word); at >= 0 && best < 2; at = text.indexOf(word, at + 1)) {
      if (at > 0 && /[\p{L}\p{N}]/u.test(text[at - 1])) continue;
      const after = text[at + word.length];
      best = Math.max(best, after === undefined || !/[\p{L}\p{N}]/u.test(after) ? 2 : 1);
    }
    return best;
  }

  /* How well a part of a page fits, 0 where a word is missing: a title weighs more than a heading, that more than text. */
  function fit(page, part, wanted) {
    let sum = 0;
    for (const word of wanted) {
      const found = 16 * has(page.name, word) + 4 * has(part.name, word) + has(part.plain, word);
      if (!found) return 0;
      sum += found;
    }
    return sum * page.boost;
  }

  function find(wanted) {
    const found = [];
    for (const page of pages) {
      let best = null;
      // where the title says it all, the page is meant and no part of it
      const named = wanted.every(word => has(page.name, word));
      for (const part of named ? page.parts.slice(0, 1) : page.parts) {
        const weight = fit(page, part, wanted);
        if (weight && (!best || weight > best.weight)) best = { page, part, weight };
      }
      if (best) found.push(best);
    }
    const newest = (a, b) => (a.page.day < b.page.day ? 1 : a.page.day > b.page.day ? -1 : 0);
    return found.sort((a, b) => b.weight - a.weight || newest(a, b));
  }

  /* The text around the first word that was found, with all of them marked. */
  function excerpt(part, wanted) {
    // letters with marks can be longer than without them: then the text is shown from its start
    const same = part.plain.length === part.text.length;
    const places = same ? wanted.map(word => part.plain.indexOf(word)).filter(at => at >= 0) : [];
    const from = places.length ? Math.max(0, Math.min(...places) - AROUND) : 0;
    const to = Math.min(part.text.length, from + 3 * AROUND);
    const nodes = [from > 0 ? "… " : ""];
    for (let at = from; at < to;) {
      const next = same ? wanted.map(word => [part.plain.indexOf(word, at), word.length]).filter(([place]) => place >= 0 && place < to) : [];
      const [place, length] = next.sort((a, b) => a[0] - b[0])[0] || [to, 0];
      nodes.push(part.text.slice(at, place));
      if (length) {
        const mark = document.createElement("mark");
        mark.textContent = part.text.slice(place, place + length);
        nodes.push(mark);
      }
      at = place + length;
    }
    return to < part.text.length ? [...nodes, " …"] : nodes;
  }

  function line({ page, part }, wanted) {
    const link = document.createElement("a");
    const title = document.createElement("strong");
    const inside = part.anchor && part.heading !== page.title ? ": " + part.heading : "";
    link.href = new URL(page.path, base).href + (part.anchor ? "#" + part.anchor : "");
    title.textContent = page.title + inside;
    link.append(title, ...excerpt(part, wanted));
    const item = document.createElement("li");
    item.append(link);
    return item;
  }

  function say(words) {
    const item = document.createElement("li");
    item.textContent = words;
    list.append(item);
    status.textContent = words;
  }

  function show() {
    const wanted = words(field.value);
    list.replaceChildren();
    list.hidden = wanted.length === 0;
    status.textContent = "";
    if (!wanted.length || !pages) return;
    const found = find(wanted);
    list.append(...found.slice(0, MOST_SHOWN).map(each => line(each, wanted)));
    if (!found.length) say("No page has all of these words.");
    else if (found.length > MOST_SHOWN) say("The best " + MOST_SHOWN + " of " + found.length + " pages.");
    else status.textContent = found.length === 1 ? "1 page" : found.length + " pages";
  }

  function ask() {
    load().then(show, () => {
      list.replaceChildren();
      list.hidden = false;
      say("The search cannot be read: there is no network.");
    });
  }

  /* Arrows go through the results, Escape goes back to the field and then closes the list. */
  function steer(event) {
    const links = [...list.querySelectorAll("a")];
    const at = links.indexOf(document.activeElement);
    if (event.key === "Escape") {
      if (at >= 0) field.focus();
      else list.hidden = true;
    } else if (event.key === "ArrowDown" && at + 1 < links.length) {
      links[at + 1].focus();
    } else if (event.key === "ArrowUp" && at >= 0) {
      (links[at - 1] || field).focus();
    } else if (event.key === "Enter" && event.target === field && links.length) {
      links[0].click();
    } else {
      return;
    }
    event.preventDefault();
  }

  field.addEventListener("focus", () => load().catch(() => {}));
  field.addEventListener("input", ask);
  box.addEventListener("keydown", steer);
  document.addEventListener("keydown", event => {
    if (event.key !== "/" || event.target.closest("input, select, textarea, [contenteditable]")) return;
    event.preventDefault();
    field.focus();
  });
  document.addEventListener("click", event => {
    if (!box.contains(event.target)) list.hidden = true;
  });
  box.hidden = false;
})();
