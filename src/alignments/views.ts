import { fewDigits, markdownEscaped } from "../quantity/internal";
import { listed, type Views } from "../errors/internal";
import { formatQuantity } from "../quantity";
import type { TransferFunction } from "../response";
import type { Crossover } from "./crossovers/crossover-data";
import type { Ladder } from "./ladders/ladder-data";
import type { Prototype } from "./prototypes/prototype-data";

const few = (value: number): string => fewDigits(value, 4);

/** Poles or zeros by frequency and Q, a pair once; `size` writes the distance from the origin. */
function roots(list: TransferFunction["poles"], size: (radius: number) => string): string {
  const atZero = list.filter(({ re, im }) => re === 0 && im === 0).length;
  const upper = list.filter(({ re, im }) => im > 0 || (im === 0 && re !== 0));
  return listed(
    [
      ...(atZero === 0 ? [] : [atZero === 1 ? "at 0" : `${atZero} at 0`]),
      ...upper.map(({ re, im }) => {
        const radius = Math.hypot(re, im);
        return im === 0
          ? `${size(radius)}${re > 0 ? " (right half)" : ""}`
          : `${size(radius)} ${re === 0 ? "on the axis" : `Q ${few(radius / (2 * Math.abs(re)))}`}${re > 0 ? " (right half)" : ""}`;
      }),
    ],
    6,
  );
}

const hertz = (radius: number): string => formatQuantity(radius / (2 * Math.PI), "Hz", { digits: 4 });
const radians = (radius: number): string => `${few(radius)} rad/s`;

/** A filter: where its poles and zeros lie. */
export const filterViews: Views<TransferFunction> = {
  text: ({ zeros, poles, gain }) =>
    [
      `TransferFunction: ${poles.length} ${poles.length === 1 ? "pole" : "poles"}, ${zeros.length} ${zeros.length === 1 ? "zero" : "zeros"}, gain ${few(gain)}`,
      `  poles: ${roots(poles, hertz)}`,
      ...(zeros.length === 0 ? [] : [`  zeros: ${roots(zeros, hertz)}`]),
    ].join("\n"),
};

/** A prototype: what it is, what its corner means, and its poles at ω = 1 rad/s. */
export const prototypeViews: Views<Prototype> = {
  text: ({ family, order, corner, poles }) =>
    `Prototype: ${family}, order ${order}, at 1 rad/s: ${corner}\n  poles: ${roots(poles, radians)}`,
};

/** The parts of a ladder on one line, from source to load. */
function partsLine({ elements, load, sourceResistance }: Ladder): string {
  const parts = elements.map(
    ({ designator, placement, kind, value }) =>
      `${designator} ${formatQuantity(value, kind === "inductor" ? "H" : "F", { digits: 4 })} ${placement}`,
  );
  return `${listed(parts)}; load ${formatQuantity(load, "Ω", { digits: 4 })}${sourceResistance === 0 ? "" : `, source ${formatQuantity(sourceResistance, "Ω", { digits: 4 })}`}`;
}

/** A ladder: its parts from source to load. */
export const ladderViews: Views<Ladder> = {
  text: (ladder) =>
    `Ladder: ${ladder.elements.length} ${ladder.elements.length === 1 ? "part" : "parts"}, source to load\n  ${partsLine(ladder)}`,
  markdown: ({ elements }) =>
    [
      "| Part | Value | Place |",
      "| --- | --- | --- |",
      ...elements.map(
        ({ designator, placement, kind, value }) =>
          `| ${markdownEscaped(designator)} | ${formatQuantity(value, kind === "inductor" ? "H" : "F", { digits: 4 })} | ${placement} |`,
      ),
    ].join("\n"),
};

/** A two-way crossover: its function, both ladders, and how the drivers are to be connected. */
export const crossoverViews: Views<Crossover> = {
  text: ({ prototype, frequency, lowPass, highPass, polarity, eitherPolarity, lobeTilt }) =>
    [
      `Crossover: ${prototype.family}, order ${prototype.order}, ${formatQuantity(frequency, "Hz", { digits: 4 })}`,
      `  low-pass: ${partsLine(lowPass)}`,
      `  high-pass: ${partsLine(highPass)}`,
      `  polarity of the high-pass driver: ${polarity}${eitherPolarity ? " (the other sums to about the same level)" : ""}; lobe tilt: ${lobeTilt}`,
    ].join("\n"),
};
