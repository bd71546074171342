/* Pages of a vessel: the plot is followed with pointer, finger or keyboard; shapes are picked from pictures. */
(() => {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";

  function follow(plot) {
    const readings = JSON.parse(document.getElementById("plot-readings").textContent);
    const svg = plot.querySelector("svg");
    const frame = svg.querySelector('[data-place="plot"]');
    const slider = plot.querySelector("input[type=range]");
    const output = plot.querySelector("output");
    const points = readings.points;
    const box = ["left", "top", "width", "height"].map((side) => Number(frame.dataset[side]));
    const cross = document.createElementNS(SVG, "path");
    for (const [name, value] of [["fill", "none"], ["stroke", "#0b5f6b"], ["stroke-width", "1"]]) cross.setAttribute(name, value);
    svg.append(cross);

    function text(value, span) {
      const decimals = Math.max(0, Math.min(4, 3 - Math.floor(Math.log10(span || 1))));
      return value.toLocaleString("en", { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: true })
        .replaceAll(",", "\u202f");
    }

    function volumeAt(level) {
      let high = points.findIndex((point) => point[0] >= level);
      if (high < 0) high = points.length - 1;
      if (high === 0) return points[0][1];
      const [l1, v1] = points[high - 1];
      const [l2, v2] = points[high];
      return l2 === l1 ? v2 : v1 + (v2 - v1) * (level - l1) / (l2 - l1);
    }

    function show(level) {
      const volume = volumeAt(level);
      const [left, top, width, height] = box;
      const x = left + width * (volume - readings.volumeLow) / (readings.volumeHigh - readings.volumeLow);
      const y = top + height * (1 - (level - readings.levelLow) / (readings.levelHigh - readings.levelLow));
      cross.setAttribute("d", `M${left} ${y}H${x}V${top + height}M${x - 3} ${y}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`);
      const sentence = slider.dataset.sentence
        .replace("{level}", `${text(level, readings.levelHigh - readings.levelLow)} ${readings.levelUnit}`)
        .replace("{volume}", `${text(volume, readings.whole)} ${readings.volumeUnit}`)
        .replace("{share}", `${(100 * volume / readings.whole).toFixed(1)} %`);
      output.textContent = sentence;
      slider.setAttribute("aria-valuetext", sentence);
    }

    function levelOf(share) {
      return readings.levelLow + share * (readings.levelHigh - readings.levelLow);
    }

    slider.addEventListener("input", () => show(levelOf(slider.value / 1000)));
    svg.addEventListener("pointermove", (event) => {
      const size = svg.getBoundingClientRect();
      const y = (event.clientY - size.top) * svg.viewBox.baseVal.height / size.height;
      const share = Math.min(1, Math.max(0, 1 - (y - box[1]) / box[3]));
      slider.value = Math.round(share * 1000);
      show(levelOf(share));
    });
    show(levelOf(slider.value / 1000));
  }

  for (const plot of document.querySelectorAll("[data-plot]")) follow(plot);

  /* Pictures of a choice: the list beside them stays what is sent, so that they and the keyboard never disagree. */
  function pick(pictures) {
    const list = document.getElementById(pictures.dataset.pictures);
    const buttons = [...pictures.querySelectorAll("button")];
    function mark() {
      const kinds = [...list.options].filter((one) => !one.disabled || one.selected).map((one) => one.value);
      for (const one of buttons) {
        one.setAttribute("aria-pressed", String(one.dataset.value === list.value));
        one.hidden = !kinds.includes(one.dataset.value);
      }
      const field = list.closest(".field");
      const body = document.getElementById("id_vessel-body");
      pictures.classList.toggle("lies", body.value.startsWith("horizontal"));
      pictures.hidden = field.hidden || Boolean(list.closest("#unused")) || kinds.length < 2;
    }
    pictures.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (!button) return;
      list.value = button.dataset.value;
      list.dispatchEvent(new Event("change", { bubbles: true }));
      list.dispatchEvent(new Event("input", { bubbles: true }));
    });
    // After the form has set apart what the new shape does not use.
    document.addEventListener("change", () => requestAnimationFrame(mark));
    requestAnimationFrame(mark);
  }
  for (const pictures of document.querySelectorAll("[data-pictures]")) pick(pictures);
})();
