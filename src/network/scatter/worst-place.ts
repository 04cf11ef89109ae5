import { extremeAlong } from "./extreme-along";

/** A place among the tolerances, each value's deviation in −1 … 1, and the value of the function there. */
export interface Place {
  readonly at: Float64Array;
  readonly value: number;
}

type OfPlace = (place: Float64Array) => number;

/** Rounds over all values, and over all pairs, after which a search ends. */
const ROUNDS = 60;
const PAIR_ROUNDS = 6;
/** A gain that is a smaller share of the value than this ends a search. */
const GAIN = 1e-9;
/** Evenly spaced deviations of one value of a pair at which the other is put where it is worst, and the last step of the search around the best. */
const ACROSS = 9;
const LAST_STEP = 0.02;

/**
 * The least (direction −1) or greatest (+1) that is found from some starts: from each, one value after the other is put where the function is
 * worst, and then the way of the whole round is gone further, until no round helps. At the worst of these places pairs of values, of which
 * one at least isn't at an end of its tolerance, are searched together, since two that move along a ridge gain nothing alone; wherever a pair
 * helps, the rounds begin again.
 */
export function worstPlace(f: OfPlace, starts: readonly ArrayLike<number>[], direction: 1 | -1): Place {
  let best: Place | undefined;
  for (const start of starts) {
    const found = climb(f, start, direction);
    if (best === undefined || direction * found.value > direction * best.value) best = found;
  }
  let worst = best!;
  for (let round = 0; round < PAIR_ROUNDS; round++) {
    const paired = overPairs(f, worst, direction);
    if (!gains(paired.value, worst.value, direction)) break;
    worst = climb(f, paired.at, direction);
  }
  return worst;
}

function gains(value: number, before: number, direction: 1 | -1): boolean {
  return direction * (value - before) > GAIN * Math.abs(before);
}

function climb(f: OfPlace, start: ArrayLike<number>, direction: 1 | -1): Place {
  const at = Float64Array.from(start);
  let value = f(at);
  for (let round = 0; round < ROUNDS; round++) {
    const [from, before] = [at.slice(), value];
    for (let k = 0; k < at.length; k++) value = alongOne(f, at, k, value, direction);
    if (!gains(value, before, direction)) break;
    value = further(f, at, from, value, direction);
  }
  return { at, value };
}

/** Puts one value where the function is worst and returns the function's value there; leaves it when nothing is worse. */
function alongOne(f: OfPlace, at: Float64Array, k: number, value: number, direction: 1 | -1): number {
  const own = at[k]!;
  const found = extremeAlong((x) => {
    at[k] = x;
    return f(at);
  }, direction);
  const better = direction * found.value > direction * value;
  at[k] = better ? found.at : own;
  return better ? found.value : value;
}

/** Goes the way of a round again, twice, four times as far, and so on, while it gets worse. */
function further(f: OfPlace, at: Float64Array, from: Float64Array, value: number, direction: 1 | -1): number {
  const here = at.slice();
  let worst = value;
  for (let times = 1; times < 1e4; times *= 2) {
    const next = here.map((x, k) => Math.min(1, Math.max(-1, x + times * (x - from[k]!))));
    const found = f(next);
    if (!(direction * found > direction * worst)) break;
    worst = found;
    at.set(next);
  }
  return worst;
}

/** The worst place at which two values differ from a place. */
function overPairs(f: OfPlace, start: Place, direction: 1 | -1): Place {
  let best = start;
  const at = start.at.slice();
  for (let j = 0; j < at.length; j++) {
    for (let k = j + 1; k < at.length; k++) {
      if (Math.abs(best.at[j]!) === 1 && Math.abs(best.at[k]!) === 1) continue;
      let [middle, value] = [best.at[j]!, best.value];
      const look = (x: number): void => {
        if (x < -1 || x > 1) return;
        at.set(best.at);
        at[j] = x;
        const found = alongOne(f, at, k, f(at), direction);
        if (direction * found > direction * value) [best, middle, value] = [{ at: at.slice(), value: found }, x, found];
      };
      let step = 2 / (ACROSS - 1);
      for (let n = 0; n < ACROSS; n++) look(-1 + n * step);
      for (; step > LAST_STEP; step /= 3) for (const away of [-2, -1, 1, 2]) look(middle + (away * step) / 3);
    }
  }
  return best;
}
