/* The live preview's manners: newest answer wins, open details and focus survive, an ended log-in keeps the typing,
   unsaved typing is not lost by leaving, and touching a finding marks its place in the sketch. */
"use strict";
(() => {
  let sequence = 0;
  let openDetails = new Set();
  let focusedId = "";

  const results = () => document.getElementById("live-results");

  document.addEventListener("htmx:configRequest", (event) => {
    if (event.target.id !== "measurement-form") return;
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
    markInvalid();
  });

  /* Error slots are swapped, inputs never: this only tells assistive technology which inputs have an error now. */
  function markInvalid() {
    for (const slot of document.querySelectorAll("#measurement-form .error[id]")) {
      const input = document.getElementById(slot.id.slice("error-".length));
      if (!input) continue;
      if (slot.textContent.trim()) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
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

  /* A link to a section opens it. */
  function openTarget() {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    const details = target && target.closest("details");
    if (details) details.open = true;
  }
  window.addEventListener("hashchange", openTarget);
  openTarget();

  /* Where an arrangement or shape is chosen, fields that it does not have step back; what is filled stays. */
  const choosers = document.querySelectorAll(
    "select[name$=-arrangement], select[name=vessel-body], select[name=vessel-bottom]");
  function stepBack() {
    const body = document.querySelector("select[name=vessel-body]");
    const chosen = [...choosers]
      .filter((one) => one.name !== "vessel-bottom" || body.value === "vertical_cylinder")
      .map((one) => one.value);
    for (const one of document.querySelectorAll(".field [data-concerns]")) {
      const about = one.dataset.concerns.split(" ").some((word) => chosen.includes(word));
      const filled = one.value && one.value !== "flat";
      one.closest(".field").hidden = !about && !filled;
    }
  }
  if (choosers.length) {
    document.addEventListener("change", stepBack);
    stepBack();
  }

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
