/* The live preview's manners: newest answer wins, open details and focus survive, an ended log-in keeps the typing,
   unsaved typing is not lost by leaving, and touching a finding marks its place in the sketch. Manners of forms: what
   a save was refused for is read first, and what a shape does not use is set apart. */
"use strict";
(() => {
  let sequence = 0;
  let openDetails = new Set();
  let focusedId = "";

  const results = () => document.getElementById("live-results");

  document.addEventListener("htmx:configRequest", (event) => {
    if (!event.target.matches("form[data-live]")) return;
    sequence += 1;
    event.detail.parameters["sequence"] = String(sequence);
  });

  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target.id !== "live-results") return;
    const answered = /data-sequence="(\d+)"/.exec(event.detail.serverResponse);
    if (answered && Number(answered[1]) < sequence) {
      event.detail.shouldSwap = false; // an older answer arrived late
      return;
    }
    openDetails = new Set([...results().querySelectorAll("details[open]")].map((one) => one.id));
    const focused = document.activeElement;
    focusedId = focused && results().contains(focused) ? focused.closest("[id]").id : "";
  });

  document.addEventListener("htmx:afterSwap", () => {
    const area = results();
    if (!area) return;
    for (const id of openDetails) {
      const one = document.getElementById(id);
      if (one && area.contains(one)) one.open = true;
    }
    if (focusedId) {
      const one = document.getElementById(focusedId);
      const focusable = one && (one.matches("summary") ? one : one.querySelector("summary"));
      if (focusable) focusable.focus({ preventScroll: true });
    }
  });
  document.addEventListener("htmx:afterSettle", markInvalid); // the slots are swapped after the results

  /* Error slots are swapped, inputs never: this only tells assistive technology which inputs have an error now. */
  function markInvalid() {
    for (const slot of document.querySelectorAll("form[data-live] .error[id]")) {
      const input = document.getElementById(slot.id.slice("error-".length));
      if (!input) continue;
      const wrong = slot.textContent.trim() !== "";
      if (wrong) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      const holder = input.closest(".field, td");
      if (holder) holder.classList.toggle("in-error", wrong);
    }
  }

  function bar(text, address, linkText) {
    let one = document.getElementById("connection-bar");
    if (!one) {
      one = document.createElement("div");
      one.id = "connection-bar";
      one.className = "banner";
      one.setAttribute("role", "alert");
      document.getElementById("main").prepend(one);
    }
    one.replaceChildren(document.createTextNode(text + " "));
    if (address) {
      const link = document.createElement("a");
      link.href = address;
      link.target = "_blank";
      link.rel = "noopener";
      link.textContent = linkText;
      one.append(link);
    }
  }

  document.addEventListener("htmx:responseError", (event) => {
    const page = document.body;
    if (event.detail.xhr.status === 401) bar(page.dataset.loggedOut, page.dataset.logIn, page.dataset.logInText);
    else bar(page.dataset.previewFailed);
  });
  document.addEventListener("htmx:sendError", () => bar(document.body.dataset.offline));
  document.addEventListener("htmx:afterRequest", (event) => {
    const one = document.getElementById("connection-bar");
    if (one && event.detail.successful) one.remove();
  });

  /* The unit beside a field is that of a bare number; typing a unit of one's own makes it step back. */
  function showOwnUnit(input) {
    const unit = input.id && document.getElementById(`unit-${input.id}`);
    if (unit) unit.classList.toggle("stepped-back", /[^\d.\s+\-−]/.test(input.value));
  }
  document.addEventListener("input", (event) => showOwnUnit(event.target));
  for (const input of document.querySelectorAll("input.quantity")) showOwnUnit(input);

  /* A link to a section or to a faulty field unfolds what holds it; a field takes the focus. */
  function reveal(target) {
    for (let one = target.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
    if (target.matches("input, select, textarea")) target.focus();
  }
  function openTarget() {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    if (target) reveal(target);
  }
  window.addEventListener("hashchange", openTarget);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("#problems a[href^='#']");
    const target = link && document.getElementById(link.hash.slice(1));
    if (!target) return;
    event.preventDefault(); // a second click on the same link changes no address
    reveal(target);
    target.scrollIntoView({ block: "center" });
  });
  openTarget();

  /* What kept a page from being saved is read first. */
  const told = document.querySelector("[data-focus]");
  if (told) told.focus();

  /* Where an arrangement or shape is chosen, fields that it does not have step back. What is filled never hides: on a
     page with a place for it, it moves there, to be cleared with one press; elsewhere it stays. */
  const choosers = [...document.querySelectorAll("select[data-chooser]")];
  const unused = document.getElementById("unused");
  const cleared = new Map(); // input -> the text that it had
  const setApart = new Map(); // input -> the text with which it was set apart

  const isAbout = (input, words) =>
    input.dataset.concerns === undefined || input.dataset.concerns.split(" ").some((word) => words.has(word));

  /* Whether the shape has this field, and where it is an end, whether the body can have the one given. */
  const isUsed = (input, value, words) =>
    isAbout(input, words) && (!input.dataset.kinds || !value || kindsOf(input).includes(value));

  /* What fields may concern: body or arrangement, the ends that this body can have, kinds of medium. */
  function chosenWords() {
    const words = new Set();
    for (const one of choosers) {
      if (!one.dataset.kinds) words.add(one.value);
    }
    for (const one of choosers) {
      if (!one.dataset.kinds) continue;
      const kinds = kindsOf(one);
      if (kinds.includes(one.value)) words.add(`${one.dataset.chooser}:${one.value}`);
    }
    for (const one of document.querySelectorAll("select[data-worded]")) {
      const option = one.selectedOptions[0];
      if (option && option.dataset.word) words.add(option.dataset.word);
    }
    return words;
  }

  function kindsOf(chooser) {
    const body = choosers.find((one) => one.dataset.chooser === "body");
    return JSON.parse(chooser.dataset.kinds)[body.value] || [];
  }

  /* Ends that the body cannot have are not offered; one that is chosen stays until somebody chooses another. */
  function offerEnds() {
    for (const one of choosers) {
      if (!one.dataset.kinds) continue;
      const kinds = kindsOf(one);
      for (const option of one.options) {
        option.hidden = option.disabled = !kinds.includes(option.value) && !option.selected;
      }
    }
  }

  function moveTo(field, input, away) {
    const place = document.querySelector(`[data-place="${CSS.escape(input.id)}"]`);
    if (away && !place) {
      const mark = document.createElement("span");
      mark.hidden = true;
      mark.dataset.place = input.id;
      field.replaceWith(mark);
      unused.querySelector(".two-up").append(field);
      setApart.set(input, input.value);
    } else if (!away && place) place.replaceWith(field);
  }

  function stepBack() {
    if (unused) offerEnds();
    // Ends first, because dimensions follow from them.
    for (const input of [...cleared.keys()].sort((one) => (one.dataset.kinds ? -1 : 1))) {
      if (isUsed(input, cleared.get(input), chosenWords())) bringBack(input);
    }
    const words = chosenWords();
    for (const input of document.querySelectorAll(".field [data-concerns]")) {
      const field = input.closest(".field");
      const used = isUsed(input, input.value, words);
      const filled = input.value.trim() !== (input.dataset.shape || "") && input.value.trim() !== "";
      const apart = Boolean(unused) && input.dataset.shape !== undefined && ((!used && filled) || cleared.has(input));
      if (unused && input.dataset.shape !== undefined) moveTo(field, input, apart);
      field.hidden = !apart && !used && !filled && !field.classList.contains("in-error");
    }
    if (unused) tellUnused();
  }

  function unusedInputs() {
    return [...unused.querySelectorAll("[data-shape]")];
  }

  function tellUnused() {
    const inputs = unusedInputs();
    const left = inputs.filter((one) => !cleared.has(one));
    const texts = unused.dataset;
    const button = unused.querySelector("button");
    unused.classList.toggle("filled", inputs.length > 0);
    let told = "";
    if (left.length) told = left.length === 1 ? texts.one : texts.many.replace("%s", String(left.length));
    else if (inputs.length) told = texts.cleared;
    const status = unused.querySelector("[role=status]");
    if (status.textContent !== told) status.textContent = told;
    button.hidden = !inputs.length;
    button.textContent = !left.length ? texts.bringBack : left.length === 1 ? texts.clearOne : texts.clearMany;
  }

  function bringBack(input) {
    if (input.value.trim() === (input.dataset.shape || "")) input.value = cleared.get(input);
    cleared.delete(input);
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function clear(input) {
    cleared.set(input, input.value);
    input.value = input.dataset.shape || "";
    const field = input.closest(".field");
    field.classList.remove("in-error");
    input.removeAttribute("aria-invalid");
    field.querySelector(".error").replaceChildren();
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  if (choosers.length) {
    document.addEventListener("change", (event) => {
      if (event.target.matches("[data-chooser], [data-worded], [data-shape]")) stepBack();
    });
    document.addEventListener("htmx:afterSwap", stepBack);
    stepBack();
  }
  if (unused) {
    unused.querySelector("button").addEventListener("click", () => {
      const left = unusedInputs().filter((one) => !cleared.has(one));
      if (left.length) left.forEach(clear);
      else [...cleared.keys()].forEach(bringBack);
      stepBack();
    });
    unused.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !cleared.size) return;
      [...cleared.keys()].forEach(bringBack);
      stepBack();
    });
    /* Emptied by hand is cleared too; typing in a cleared field is typing: nobody wants the old text back then. */
    unused.addEventListener("input", (event) => {
      const input = event.target;
      if (!event.isTrusted || input.dataset.shape === undefined) return;
      if (input.value.trim() === "" || input.value === input.dataset.shape) cleared.set(input, setApart.get(input));
      else cleared.delete(input);
      tellUnused();
    });
    for (const input of unusedInputs()) setApart.set(input, input.value);
  }

  /* Coming back by the browser's own button brings the typing back after this script has run: look at it again. */
  window.addEventListener("pageshow", () => setTimeout(() => {
    const [visit] = performance.getEntriesByType("navigation");
    if (!visit || visit.type !== "back_forward") return;
    for (const form of document.querySelectorAll("form[data-live], form[data-guard]")) {
      for (const kind of ["change", "input"]) {
        for (const one of form.querySelectorAll("select, input.quantity")) one.dispatchEvent(new Event(kind, { bubbles: true }));
      }
    }
  }, 0));

  /* Leaving with unsaved typing asks first. */
  let dirty = false;
  document.addEventListener("input", (event) => {
    if (event.target.closest("form[data-guard]")) dirty = true;
  });
  document.addEventListener("submit", (event) => {
    if (event.target.matches("form[data-guard]")) dirty = false;
  });
  window.addEventListener("beforeunload", (event) => {
    if (dirty) event.preventDefault();
  });

  /* Touching a finding marks its place in the sketch. */
  function touch(event) {
    const finding = event.target.closest && event.target.closest("[data-marks]");
    for (const one of document.querySelectorAll(".sketch .touched")) one.classList.remove("touched");
    if (!finding || !finding.dataset.marks) return;
    for (const one of document.querySelectorAll(`.sketch [data-place="${CSS.escape(finding.dataset.marks)}"]`)) {
      one.classList.add("touched");
    }
  }
  document.addEventListener("mouseover", touch);
  document.addEventListener("focusin", touch);
})();
