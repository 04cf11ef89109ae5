import { DividingNetworkError } from "../errors";
import { missingGoods } from "./missing-goods";
import { missesOf, type Miss } from "./misses";
import { descend, drawnStarts } from "./local-search";
import { attempt, built, type Question } from "./question";

/** What a limit that must be kept counts more than any that may give way. */
const BESIDE = 1e6;
/** Networks up to which each is looked at for how far a limit would have to give way. */
const EACH = 300;

/** A network by how far it misses the limits. */
interface Nearest {
  readonly codes: Int32Array;
  readonly by: number;
  readonly all: readonly Miss[];
}

/** The error of a space without a network that keeps the limits: which ones the nearest breaks, and by how much; and how far one of them alone would have to give way, where single changes come to that; `of`: which networks, where there are others. */
export function infeasible(question: Question, of = ""): DividingNetworkError {
  return relaxation(question, of).error;
}

/** The same, and whether one limit alone would have to give way. */
export function relaxation(question: Question, of = ""): { readonly error: DividingNetworkError; readonly byOne: boolean } {
  const { caller, choices, turns, goal, limits, shard } = question;
  if (shard !== undefined)
    return {
      byOne: false,
      error: new DividingNetworkError(
        "no-feasible-network",
        `${caller}: no network of shard ${shard.index} of ${shard.of} keeps the goal's limits`,
        "Give mergeShards undefined in its place",
      ),
    };
  const counts = choices.map(({ options }) => options.length);
  const looked = new Map<string, readonly Miss[] | undefined>();
  const misses = (codes: Int32Array, turned: ReadonlySet<string>) => {
    const key = `${[...turned].join(" ")}/${codes.join(" ")}`;
    if (!looked.has(key))
      looked.set(
        key,
        attempt(() => [...missesOf(built(question, codes, turned), goal, limits), ...missingGoods(question, codes)], undefined),
      );
    return looked.get(key);
  };
  /** The least of a measure over all polarities, from some starts; undefined where it is never below a bound. */
  const least = (measure: (all: readonly Miss[]) => number, starts: readonly (readonly number[])[], below: number): Nearest | undefined => {
    let best: Nearest | undefined;
    for (const turned of turns.sets) {
      const value = (codes: Int32Array): number => {
        const all = misses(codes, turned);
        return all === undefined ? Infinity : measure(all);
      };
      descend(counts, value, starts, (codes, by) => {
        if (by < (best?.by ?? below)) best = { codes: codes.slice(), by, all: misses(codes, turned)! };
      });
    }
    return best;
  };
  const sum = (all: readonly Miss[]) => all.reduce((total, { by }) => total + by, 0);
  const nearest = least(sum, drawnStarts(counts, 2), Infinity);
  const many = counts.reduce((product, count) => product * count, 1);
  const starts = many > EACH ? drawnStarts(counts, 4) : Array.from({ length: many }, (_, number) => codesOf(counts, number));
  const limiting = new Set([...looked.values()].flatMap((all) => (all ?? []).map(({ limit }) => limit)));
  const alone =
    nearest === undefined
      ? []
      : [...limiting].flatMap((limit) => {
          const others = (all: readonly Miss[]) => sum(all.filter((each) => each.limit !== limit));
          const found = least((all) => (others(all) > 0 ? BESIDE + others(all) : sum(all)), [[...nearest.codes], ...starts], BESIDE);
          return found === undefined || found.all.length === 0 ? [] : [said(found.all)];
        });
  const why =
    nearest === undefined
      ? "no combination of candidates makes a network"
      : nearest.all.length === 0
        ? "those that keep them are silent at some place or frequency"
        : `of the nearest found, ${said(nearest.all)}`;
  const way =
    alone.length > 0
      ? `Give other candidates, or relax one limit so far: ${alone.join("; or ")}`
      : nearest !== undefined && nearest.all.length > 1
        ? `No one of these limits alone was found to be enough. Give other candidates, or relax all of them so far: ${said(nearest.all)}`
        : 'Give other candidates, or state what may be missed: goal({ limits: "stated", … })';
  return {
    byOne: alone.length > 0,
    error: new DividingNetworkError(
      "no-feasible-network",
      `${caller}: none of the ${question.networks} networks${of} keeps the goal's limits; ${why}`,
      way,
    ),
  };
}

function said(all: readonly Miss[]): string {
  return all.map(({ limit, says }) => `${limit}: ${says}`).join("; ");
}

/** The combination of a number, the first place counting fastest. */
function codesOf(counts: readonly number[], number: number): number[] {
  let rest = number;
  return counts.map((count) => {
    const code = rest % count;
    rest = Math.floor(rest / count);
    return code;
  });
}
