/** What a search settled of one drawing. */
export interface Settled {
  readonly parts: number;
  /** Networks that its values make, as far as they were looked through. */
  readonly networks: number;
  /** dB: none of them that keeps the limits is better; Infinity where none keeps them. */
  readonly boundDb: number;
  /** Whether nothing was left open. */
  readonly complete: boolean;
  /** Whether there are values between those that were looked through. */
  readonly thinned: boolean;
}

/** What is proven of a network that a redesign found. */
export interface Proof {
  /** dB: none of `networks` that keeps the limits comes below; 0 where the loss is of third-octave powers and the search went by plain levels. */
  readonly lowerBoundDb: number;
  /** Whether none of `networks` is better. */
  readonly proven: boolean;
  /** How many networks of as many parts or fewer were looked through for that, dimensionless. */
  readonly networks: number;
  /** The same in words: of how many, and what stands against it. */
  readonly proof: string;
}

/** How far a search's own sum may lie from the loss. */
const ROUNDING = 1e-8;

/** What the drawings of as many parts or fewer say of a network. */
export function proofOf(
  parts: number,
  lossDb: number,
  all: readonly Settled[],
  frequenciesStated: boolean,
  chosenBy?: "loss" | "yield",
): Proof {
  const own = all.filter((each) => each.parts <= parts);
  const networks = own.reduce((sum, each) => sum + each.networks, 0);
  const bound = own.reduce((least, { boundDb }) => Math.min(least, boundDb), Infinity);
  const proven = frequenciesStated && bound >= lossDb - ROUNDING;
  const lowerBoundDb = frequenciesStated ? Math.min(lossDb, bound) : 0;
  const of = `of ${counted(networks)} networks of up to ${parts} parts (${own.length} ${own.length === 1 ? "topology" : "topologies"})`;
  const [open, thinned] = [own.filter(({ complete }) => !complete).length, own.filter((each) => each.thinned).length];
  const against = [
    ...(open === 0 ? [] : [`${open} of the topologies ${open === 1 ? "was" : "were"} left unfinished`]),
    ...(thinned === 0 ? [] : [`in ${thinned} of them there are values between those looked through`]),
  ];
  const head = !frequenciesStated
    ? `best found ${of}; no proof, since the loss is of third-octave powers and the search goes by plain levels`
    : proven
      ? `none ${of} is better`
      : `none ${of} is below ${lowerBoundDb.toFixed(3)} dB`;
  const robust =
    chosenBy === undefined
      ? []
      : [
          `that is as drawn: it was chosen by ${chosenBy === "loss" ? "the loss to be expected of drawn loudspeakers" : "the share of good ones among drawn loudspeakers"}, as far as single changes from each topology's best lead`,
        ];
  return { lowerBoundDb, proven, networks, proof: [head, ...against, ...robust].join("; ") };
}

/** A count with its thousands apart; three digits of a large one. */
function counted(count: number): string {
  if (count < 1e7) return String(Math.round(count)).replace(/\B(?=(\d{3})+$)/g, ",");
  const power = Math.floor(Math.log10(count) + 1e-9);
  return `${(count / 10 ** power).toFixed(2)}·10^${power}`;
}
