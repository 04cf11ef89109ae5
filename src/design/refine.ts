import type { BoughtPart, Part } from "../parts";
import { mainValue } from "../parts/internal";
import type { Choice, Option } from "./choices";
import { trueLossBelow } from "./enumerate";
import { descend } from "./local-search";
import type { Found, Question } from "./question";
import type { Supply } from "./supply";
import type { Drawing } from "./drawing-data";

/** How often a search near the values found moves on. */
const MOVES = 6;

/** A network as it was chosen: which candidates, which drivers turned, and its loss in dB. */
export interface Best {
  readonly choices: readonly Choice[];
  readonly codes: Int32Array;
  readonly turned: ReadonlySet<string>;
  readonly lossDb: number;
  /** The codes of all steps that led here, `codes` last: every step's candidates lie near those that the step before chose. */
  readonly path: readonly Int32Array[];
}

/** The best near what was found, again and again until nothing moves. */
export async function refined(
  { slots }: Drawing,
  { choices }: Question,
  { codes, turned, lossDb }: Found,
  { near: nearTo }: Supply,
  look: (near: readonly Choice[], below: number) => Promise<{ readonly found: Found | undefined }>,
): Promise<Best> {
  let best: Best = { choices, codes, turned, lossDb: lossDb!, path: [codes] };
  for (let move = 0; move < MOVES; move++) {
    const now = best;
    const near = around(slots, now, nearTo);
    const { found } = await look(near, best.lossDb * (1 - 1e-9));
    if (found === undefined) break;
    best = { choices: near, codes: found.codes, turned: found.turned, lossDb: found.lossDb!, path: [...now.path, found.codes] };
  }
  return best;
}

/** The best by the true loss, of third-octave powers, that single changes of values near reach and that keeps the limits by it: the search goes by plain levels. */
export function polished(
  question: Question,
  { slots }: Drawing,
  before: Best,
  { near: nearTo }: Supply,
  mostDb: (least: number) => number = () => Infinity,
): Best {
  const { choices, codes, turned, path } = before;
  const found = choices.map(({ options }, index) => options[codes[index]!]!);
  const near = around(slots, before, nearTo);
  const own: Question = { ...question, choices: near };
  const start = near.map(({ options }, index) => nearest(options, found[index]!));
  const losses = new Map<string, number>();
  let least = Infinity;
  const value = (at: Int32Array): number => {
    const key = at.join(",");
    if (!losses.has(key)) losses.set(key, trueLossBelow(own, at, turned, least, mostDb(least)));
    const loss = losses.get(key)!;
    least = Math.min(least, loss);
    return loss;
  };
  let best: Best = { choices: near, codes: Int32Array.from(start), turned, lossDb: Infinity, path };
  descend(
    near.map(({ options }) => options.length),
    value,
    [start],
    (at, lossDb) => (best = { choices: near, codes: at.slice(), turned, lossDb, path: [...path, at.slice()] }),
  );
  return best;
}

/**
 * The best by what networks are chosen instead of their loss as drawn, as far as single changes of values near lead, again and again until nothing moves. What as drawn is worse than
 * `mostDb` of the best so far isn't drawn from.
 */
export function hardened(question: Question, drawing: Drawing, before: Best, supply: Supply, mostDb: (least: number) => number): Best {
  let best = polished(question, drawing, before, supply, mostDb);
  for (let move = 0; move < MOVES; move++) {
    const next = polished(question, drawing, best, supply, mostDb);
    if (!(next.lossDb < best.lossDb * (1 - 1e-9))) break;
    best = next;
  }
  return best;
}

/** What a path through candidates leads to, as `refined` and `polished` found it. */
export function followed(
  { slots }: Drawing,
  choices: readonly Choice[],
  { path, turned, lossDb }: { readonly path: readonly (readonly number[])[]; readonly turned: readonly string[]; readonly lossDb: number },
  { near }: Supply,
): Best {
  const steps = path.map((codes) => Int32Array.from(codes));
  let at = choices;
  steps.slice(1).forEach((_, step) => (at = around(slots, { choices: at, codes: steps[step]! }, near)));
  return { choices: at, codes: steps[steps.length - 1]!, turned: new Set(turned), lossDb, path: steps };
}

/** Candidates near those chosen. */
function around(slots: Drawing["slots"], { choices, codes }: Pick<Best, "choices" | "codes">, near: Supply["near"]): readonly Choice[] {
  return choices.map(({ name, options }, index) => ({ name, options: near(slots[name]!, options[codes[index]!]!) }));
}

/** The index of a part among options: its own, else that of the nearest value. */
function nearest(options: readonly Option[], part: Part): number {
  const own = options.indexOf(part);
  if (own >= 0) return own;
  const away = (option: Option) => Math.abs(Math.log(mainValue(option as BoughtPart) / mainValue(part as BoughtPart)));
  return options.reduce((best, option, at) => (away(option) < away(options[best]) ? at : best), 0);
}
