// A plot over frequency, drawn with elements and attributes alone: no style is written into the page, as its content-security policy wants it.
const SVG = "http://www.w3.org/2000/svg";

export function element(name, attributes, parent, text) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  parent?.append(made);
  return made;
}

/**
 * A plot in an svg element of the page.
 *
 * @param svg the element
 * @param options `from`, `to` in Hz; `low`, `high`, `step` of the values, `unit`, `height`
 * @returns `curve(key, className, name)`, which gives a function that draws its values
 */
export function plot(svg, { from, to, low, high, step, unit, height = 250 }) {
  // Drawn at the size at which it is seen, so that words keep theirs.
  const [width, left, right, top, bottom] = [Math.max(340, svg.clientWidth), 46, 74, 12, 24];
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  const x = (frequency) => left + ((width - left - right) * Math.log(frequency / from)) / Math.log(to / from);
  const y = (value) => top + ((height - top - bottom) * (high - value)) / (high - low);
  const inside = (value) => Math.min(high, Math.max(low, value));
  const clip = element("clipPath", { id: `${svg.id}-inside` }, svg);
  element("rect", { x: left, y: top, width: width - left - right, height: height - top - bottom }, clip);
  for (let value = low; value <= high; value += step) {
    element("line", { class: "grid", x1: left, x2: width - right, y1: y(value), y2: y(value) }, svg);
    element("text", { x: left - 6, y: y(value) + 4, "text-anchor": "end" }, svg, `${value}${value + step > high ? ` ${unit}` : ""}`);
  }
  for (const frequency of [20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000].filter((each) => each >= from && each <= to)) {
    if (width < 500 && (frequency === 50 || frequency === 500 || frequency === 5000)) continue;
    const last = frequency >= 10_000 && 2 * frequency > to;
    element("line", { class: "grid", x1: x(frequency), x2: x(frequency), y1: top, y2: height - bottom }, svg);
    element(
      "text",
      { x: x(frequency), y: height - 6, "text-anchor": "middle" },
      svg,
      frequency >= 1000 ? `${frequency / 1000} k${last ? "Hz" : ""}` : `${frequency}`,
    );
  }
  element("rect", { class: "frame", x: left, y: top, width: width - left - right, height: height - top - bottom }, svg);
  const labels = [];
  /** Moves the names at the right end apart, so that each can be read. */
  const settle = () => {
    const shown = labels.filter(({ at }) => at !== undefined).sort((a, b) => a.at - b.at);
    let last = -Infinity;
    for (const label of shown) {
      label.settled = Math.max(label.at, last + 14);
      last = label.settled;
    }
    const over = Math.max(0, last - (height - bottom));
    for (const { text, settled } of shown) text.setAttribute("y", (settled - over + 4).toFixed(1));
  };
  return {
    settle,
    /** A curve over a grid of frequencies, and its name at its end. */
    curve(className, name, frequencies) {
      const path = element("path", { class: `curve ${className}`, "clip-path": `url(#${clip.id})` }, svg);
      const across = Float64Array.from(frequencies, x);
      const label = { text: element("text", { class: className, x: width - right + 6 }, svg, name) };
      if (name !== "") labels.push(label);
      return (values) => {
        let d = "";
        for (let i = 0; i < across.length; i++) d += `${i === 0 ? "M" : "L"}${across[i].toFixed(1)} ${y(values[i]).toFixed(1)}`;
        path.setAttribute("d", d);
        label.at = y(inside(values[values.length - 1]));
      };
    },
  };
}
