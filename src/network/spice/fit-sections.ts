import { nonnegativeFit } from "../../numeric/internal";
import { moved } from "./move-sections";
import { deviation, type SampledImpedance, type SectionFit } from "./section";
import { column, section, stacked, type Shape, type Sized } from "./section-shape";
import { simplified } from "./simplify-sections";

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

/** From `low` to `high` in equal ratios of at most `ratio`. */
function steps(low: number, high: number, ratio: number): number[] {
  const count = Math.max(1, Math.ceil(Math.log(high / low) / Math.log(ratio)));
  return Array.from({ length: count + 1 }, (_, i) => low * (high / low) ** (i / count));
}
