import type { PreferredSeries } from "../quantity";
import type { Part } from "../parts";
import type { Choice } from "./choices";
import { trueLoss } from "./enumerate";
import { descend } from "./local-search";
import type { Found, Question } from "./question";
import { around, partOf, type CoilLaw } from "./series-parts";
import type { Drawing } from "./topologies";

/** How often a search near the values found moves on. */
const MOVES = 6;

/** A network as it was chosen: which candidates, which drivers turned, and its loss in dB. */
export interface Best {
  readonly choices: readonly Choice[];
  readonly codes: Int32Array;
  readonly turned: ReadonlySet<string>;
  readonly lossDb: number;
}

/** The best in the asked series near what was found, again and again until nothing moves. */
export async function refined({ slots }: Drawing, { choices }: Question, { codes, turned, lossDb }: Found, series: PreferredSeries, law: CoilLaw, look: (near: readonly Choice[], below: number) => Promise<{ readonly found: Found | undefined }>): Promise<Best> {
  let best: Best = { choices, codes, turned, lossDb: lossDb! };
  for (let move = 0; move < MOVES; move++) {
    const now = best;
    const near = now.choices.map(({ name, options }, index) => {
      const part = options[now.codes[index]!] as Part;
      const { kind, fixed } = slots[name]!;
      return { name, options: fixed === undefined ? around(series, mainValue(part)).map((value) => partOf(kind, value, law)) : options };
    });
    const { found } = await look(near, best.lossDb * (1 - 1e-9));
    if (found === undefined) break;
    best = { choices: near, codes: found.codes, turned: found.turned, lossDb: found.lossDb! };
  }
  return best;
}

/** The best by the true loss, of third-octave powers, that single changes of values near reach and that keeps the limits by it: the search goes by plain levels. */
export function polished(question: Question, { slots }: Drawing, { choices, codes, turned }: Best, series: PreferredSeries, law: CoilLaw): Best {
  const near = choices.map(({ name, options }, index) => {
    const { kind, fixed } = slots[name]!;
    return { name, options: fixed === undefined ? around(series, mainValue(options[codes[index]!] as Part)).map((value) => partOf(kind, value, law)) : options };
  });
  const own: Question = { ...question, choices: near };
  const start = near.map(({ options }, index) => {
    const value = mainValue(choices[index]!.options[codes[index]!] as Part);
    return options.reduce((best, option, at) => (Math.abs(Math.log(mainValue(option as Part) / value)) < Math.abs(Math.log(mainValue(options[best] as Part) / value)) ? at : best), 0);
  });
  const losses = new Map<string, number>();
  const value = (at: Int32Array): number => {
    const key = at.join(",");
    if (!losses.has(key)) losses.set(key, trueLoss(own, at, turned));
    return losses.get(key)!;
  };
  let best: Best = { choices: near, codes: Int32Array.from(start), turned, lossDb: Infinity };
  descend(near.map(({ options }) => options.length), value, [start], (at, lossDb) => (best = { choices: near, codes: at.slice(), turned, lossDb }));
  return best;
}

function mainValue(part: Part): number {
  return part.kind === "inductor" ? part.inductance : part.kind === "capacitor" ? part.capacitance : part.kind === "resistor" ? part.resistance : NaN;
}
