import { fitLeastSquares } from "../../numeric";
import { nonnegativeFit } from "../../numeric/internal";

/**
 * One of the circuits that, one after the other, make up an impedance: R, L, C, or two or three of them side by side. Each is
 * passive, so that every chain of them is.
 */
export interface Section {
  /** Ω. */
  readonly r?: number;
  /** H. */
  readonly l?: number;
  /** F. */
  readonly c?: number;
}

/** An impedance as a chain of sections. */
export interface SectionFit {
  readonly sections: readonly Section[];
  /** The largest relative deviation from what was asked for, on the grid, of the sections as they are given. */
  readonly error: number;
}

/** An impedance (Ω) on a grid (Hz). */
export interface SampledImpedance {
  readonly frequencies: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A section of unit size: corner or resonance in rad/s, Q of a resonance. */
type Shape =
  | { readonly kind: "r" | "l" | "c" }
  | { readonly kind: "rl" | "rc"; readonly corner: number }
  | { readonly kind: "rlc"; readonly corner: number; readonly q: number };

/** What an impedance may be made of. */
export type Pieces = "coil" | "capacitor" | "driver";

/**
 * Approximates an impedance by a chain of sections with the least sum of squared relative deviations. Corners lie on a grid; those of
 * a driver are then moved to where they fit best, and sections are added as long as each of them makes a difference.
 */
export function fitSections(asked: SampledImpedance, pieces: Pieces): SectionFit {
  const omega = asked.frequencies.map((frequency) => 2 * Math.PI * frequency);
  const [low, high] = [omega[0]!, omega[omega.length - 1]!];
  const weights = asked.frequencies.map((_, i) => 1 / Math.hypot(asked.re[i]!, asked.im[i]!));
  const target = stacked(asked.re, asked.im, weights);
  const fit = (among: readonly Shape[], most: number): Sized[] => {
    const sizes = nonnegativeFit(
      among.map((shape) => column(shape, omega, weights)),
      target,
      most,
    );
    return among.map((shape, i) => ({ shape, size: sizes[i]! })).filter(({ size }) => size > 0);
  };
  const answer = (found: readonly Sized[]): SectionFit => {
    const whole = found.map(({ shape, size }) => section(shape, size));
    const sections = simplified(whole, asked, 1.05 * deviation(whole, asked) + 1e-6);
    return { sections, error: deviation(sections, asked) };
  };
  if (pieces !== "driver") {
    const [alone, together] = pieces === "coil" ? (["l", "rl"] as const) : (["c", "rc"] as const);
    let found: SectionFit | undefined;
    // Ever more corners, until a thousandth is reached or nothing is gained.
    for (const perDecade of [0.5, 1, 1.5, 2, 3]) {
      const next = answer(
        fit(
          [{ kind: alone }, ...steps(low / 30, high * 30, 10 ** (1 / perDecade)).map((corner): Shape => ({ kind: together, corner }))],
          40,
        ),
      );
      if (found === undefined || next.error < found.error) found = next;
      if (found.error <= 1e-3) break;
    }
    return found!;
  }
  const corners = steps(low / 30, high * 30, 10 ** (1 / 3));
  const shapes: Shape[] = [
    { kind: "r" },
    { kind: "l" },
    ...corners.flatMap((corner): Shape[] => [
      { kind: "rl", corner },
      { kind: "rc", corner },
    ]),
  ];
  for (const corner of steps(low, high, 2 ** (1 / 6))) for (const q of [0.5, 1, 2, 4, 8]) shapes.push({ kind: "rlc", corner, q });
  let best = moved(fit(shapes, 4), omega, weights, target);
  // A thousandth is below the scatter of any measured impedance.
  for (let most = 6; most <= 16 && best.squares > 1e-6 * omega.length; most += 2) {
    const next = moved(fit([...best.found.map(({ shape }) => shape), ...shapes], most), omega, weights, target);
    if (!(next.squares < 0.8 * best.squares)) break;
    best = next;
  }
  return answer(best.found);
}

interface Sized {
  readonly shape: Shape;
  readonly size: number;
}

/** The same sections with sizes, corners and Qs where the squares are least. */
function moved(
  found: readonly Sized[],
  omega: Float64Array,
  weights: Float64Array,
  target: Float64Array,
): { readonly found: readonly Sized[]; readonly squares: number } {
  const start = found
    .flatMap(({ shape, size }) => [size, ...("corner" in shape ? [shape.corner] : []), ...("q" in shape ? [shape.q] : [])])
    .map(Math.log);
  const read = (logarithms: ArrayLike<number>): Sized[] => {
    let at = 0;
    const next = (): number => Math.exp(logarithms[at++]!);
    return found.map(({ shape }) => {
      const size = next();
      return { size, shape: { ...shape, ...("corner" in shape ? { corner: next() } : {}), ...("q" in shape ? { q: next() } : {}) } };
    });
  };
  const add = (section: Section, factor: number, out: Float64Array): void =>
    omega.forEach((w, i) => {
      const [re, im] = sectionsImpedance([section], w);
      out[i]! += factor * re * weights[i]!;
      out[i + omega.length]! += factor * im * weights[i]!;
    });
  const residuals = (logarithms: Float64Array, out: Float64Array): void => {
    target.forEach((value, i) => (out[i] = -value));
    for (const { shape, size } of read(logarithms)) add(section(shape, size, 17), 1, out);
  };
  // A parameter moves its own section alone.
  const slopes = (logarithms: Float64Array, columns: readonly Float64Array[]): void => {
    let at = 0;
    const step = 1e-5;
    for (const { shape, size } of read(logarithms)) {
      const [larger, smaller] = [Math.exp(step), Math.exp(-step)];
      add(section(shape, size, 17), 1, columns[at++]!.fill(0));
      if (!("corner" in shape)) continue;
      const difference = (up: Shape, down: Shape): void => {
        const column = columns[at++]!.fill(0);
        add(section(up, size, 17), 1 / (2 * step), column);
        add(section(down, size, 17), -1 / (2 * step), column);
      };
      difference({ ...shape, corner: shape.corner * larger }, { ...shape, corner: shape.corner * smaller });
      if ("q" in shape) difference({ ...shape, q: shape.q * larger }, { ...shape, q: shape.q * smaller });
    }
  };
  const { parameters, squares } = fitLeastSquares(residuals, start, { count: target.length, maxIterations: 60, maxStep: 0.5, slopes });
  return { found: read(parameters), squares };
}

/** Leaves out of each section what makes no difference in the band: a coil beside a resistance that is shorted by it only far below, and the like. */
function simplified(sections: readonly Section[], asked: SampledImpedance, allowed: number): Section[] {
  let now = [...sections];
  for (let i = 0; i < now.length; i++) {
    const { r, l, c } = now[i]!;
    if ([r, l, c].filter((value) => value !== undefined).length < 2) continue;
    for (const [key, value] of [
      ["r", r],
      ["l", l],
      ["c", c],
    ] as const) {
      if (value === undefined || Object.keys(now[i]!).length < 2) continue;
      const { [key]: _, ...fewer } = now[i]!;
      const tried = now.map((each, at) => (at === i ? fewer : each));
      if (deviation(tried, asked) <= allowed) now = tried;
    }
  }
  return merged(now);
}

/** Resistors, coils and capacitors that stand alone, as one of each. */
function merged(sections: readonly Section[]): Section[] {
  const alone = (key: "r" | "l" | "c"): number[] =>
    sections.flatMap((section) => (Object.keys(section).length === 1 && section[key] !== undefined ? [section[key]] : []));
  const sum = (values: readonly number[]): number => Number(values.reduce((total, value) => total + value, 0).toPrecision(6));
  const [r, l, c] = [sum(alone("r")), sum(alone("l")), sum(alone("c").map((value) => 1 / value))];
  return [
    ...(r > 0 ? [{ r }] : []),
    ...(l > 0 ? [{ l }] : []),
    ...(c > 0 ? [{ c: Number((1 / c).toPrecision(6)) }] : []),
    ...sections.filter((section) => Object.keys(section).length > 1),
  ];
}

/** The impedance (Ω) of a chain of sections at an angular frequency in rad/s. */
export function sectionsImpedance(sections: readonly Section[], omega: number): readonly [re: number, im: number] {
  let [re, im] = [0, 0];
  for (const { r, l, c } of sections) {
    const [conductance, susceptance] = [
      r === undefined ? 0 : 1 / r,
      (c === undefined ? 0 : omega * c) - (l === undefined ? 0 : 1 / (omega * l)),
    ];
    const size = conductance * conductance + susceptance * susceptance;
    re += conductance / size;
    im -= susceptance / size;
  }
  return [re, im];
}

function deviation(sections: readonly Section[], { frequencies, re, im }: SampledImpedance): number {
  let largest = 0;
  frequencies.forEach((frequency, i) => {
    const [a, b] = sectionsImpedance(sections, 2 * Math.PI * frequency);
    largest = Math.max(largest, Math.hypot(a - re[i]!, b - im[i]!) / Math.hypot(re[i]!, im[i]!));
  });
  return largest;
}

/** From `low` to `high` in equal ratios of at most `ratio`. */
function steps(low: number, high: number, ratio: number): number[] {
  const count = Math.max(1, Math.ceil(Math.log(high / low) / Math.log(ratio)));
  return Array.from({ length: count + 1 }, (_, i) => low * (high / low) ** (i / count));
}

/** Real parts over imaginary parts, each weighted. */
function stacked(re: ArrayLike<number>, im: ArrayLike<number>, weights: Float64Array): Float64Array {
  const n = weights.length;
  return Float64Array.from({ length: 2 * n }, (_, i) => (i < n ? re[i]! * weights[i]! : im[i - n]! * weights[i - n]!));
}

function column(shape: Shape, omega: Float64Array, weights: Float64Array): Float64Array {
  const unit = [section(shape, 1, 17)];
  const values = Array.from(omega, (w) => sectionsImpedance(unit, w));
  return stacked(
    values.map(([re]) => re),
    values.map(([, im]) => im),
    weights,
  );
}

/** A shape of some size as a section; six digits are more than a fit holds. */
function section(shape: Shape, size: number, digits = 6): Section {
  const rounded = (value: number): number => (digits > 16 ? value : Number(value.toPrecision(digits)));
  switch (shape.kind) {
    case "r":
      return { r: rounded(size) };
    case "l":
      return { l: rounded(size) };
    case "c":
      return { c: rounded(1 / size) };
    case "rl":
      return { r: rounded(size), l: rounded(size / shape.corner) };
    case "rc":
      return { r: rounded(size), c: rounded(1 / (size * shape.corner)) };
    case "rlc":
      return { r: rounded(size), l: rounded(size / (shape.corner * shape.q)), c: rounded(shape.q / (size * shape.corner)) };
  }
}
