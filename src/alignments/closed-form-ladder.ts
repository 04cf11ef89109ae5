import { DividingNetworkError } from "../errors";
import type { WorkingBuilder } from "../quantity";
import type { TransferFunction } from "../response";
import { unrealisable } from "./reflection";

const source = "closed form after Takahasi (1951)";

type Given = readonly [value: number, unit: string];

/** Half a unit of the last of six printed decimals: a ratio this near to the least one is that one, copied from a table. */
const tabulated = 4e-7;

/**
 * The elements of a Butterworth or Chebyshev ladder between two resistances in closed form, source to load, relative to
 * the source's resistance; undefined for any other function. After Takahasi (1951).
 *
 * $g_1 = \frac{2\sin\gamma_1}{x - y}$,
 * $g_k g_{k+1} = \frac{4\sin\gamma_{2k-1}\sin\gamma_{2k+1}}{x^2 + y^2 - 2xy\cos\gamma_{2k} + c\sin^2\gamma_{2k}}$,
 * $\gamma_m = m\pi/2n$; Butterworth: x = 1, y = ((ρ−1)/(ρ+1))^{1/n}, c = 0; Chebyshev: x = sinh(asinh(1/ε)/n), y =
 * sinh(asinh(√(1−K)/ε)/n), c = 1, where K is the share of power passed at the crests.
 */
export function closedFormLadder(
  caller: string,
  poles: TransferFunction["poles"],
  ratio: number,
  steps: WorkingBuilder,
): number[] | undefined {
  const n = poles.length;
  const x = recognised(poles);
  if (x === undefined) return undefined;
  const sign = ratio < 1 ? -1 : 1;
  const reflected = Math.abs(ratio - 1) / (ratio + 1);
  if (n % 2 === 0 && ratio < 1) throw unrealisable(caller, ratio);
  const y = sign * (x === 1 ? reflected ** (1 / n) : chebyshevOffset(caller, n, x.sinh, ratio, reflected));
  const [size, c] = x === 1 ? [1, 0] : [x.sinh, 1];
  const elements = [
    steps.step(
      "h1",
      "",
      { formula: "2 sin(π/2n) / (x − y)", tex: "h_1 = \\frac{2\\sin(\\pi/2n)}{x - y}", source },
      { n: [n, ""], x: [size, ""], y: [y, ""] },
      (v) => (2 * Math.sin(Math.PI / (2 * v.n))) / (v.x - v.y),
    ),
  ];
  for (let k = 1; k < n; k++) {
    const formula = `4 sin((2k−1)π/2n) sin((2k+1)π/2n) / ((x² + y² − 2xy cos(kπ/n) + c sin²(kπ/n)) h${k})`;
    const upper = "4\\sin\\frac{(2k-1)\\pi}{2n}\\sin\\frac{(2k+1)\\pi}{2n}";
    const tex = `h_{${k + 1}} = \\frac{${upper}}{(x^2 + y^2 - 2xy\\cos\\frac{k\\pi}{n} + c\\sin^2\\frac{k\\pi}{n})\\,h_{${k}}}`;
    const before = `h${k}`;
    const inputs: Readonly<Record<"k" | "n" | "x" | "y" | "c", Given>> & Readonly<Record<string, Given>> = {
      k: [k, ""], n: [n, ""], x: [size, ""], y: [y, ""], c: [c, ""], [before]: [elements[k - 1]!, ""],
    };
    elements.push(
      steps.step(`h${k + 1}`, "", { formula, tex, source }, inputs, (v) => {
        // x² + y² − 2xy cos α without cancellation
        const distance = (v.x - v.y) ** 2 + 4 * v.x * v.y * Math.sin((v.k * Math.PI) / (2 * v.n)) ** 2;
        const half = Math.PI / (2 * v.n);
        return (4 * Math.sin((2 * v.k - 1) * half) * Math.sin((2 * v.k + 1) * half)) / (distance + v.c * Math.sin(2 * v.k * half) ** 2) / v[before]!;
      }),
    );
  }
  return elements;
}

/** 1 for Butterworth poles, sinh a for Chebyshev poles of the ellipse with half-axes sinh a and cosh a. */
function recognised(poles: TransferFunction["poles"]): 1 | { readonly sinh: number } | undefined {
  const n = poles.length;
  const uppers = poles.filter(({ im }) => im >= 0).sort((a, b) => b.im - a.im);
  if (uppers.length !== Math.ceil(n / 2) || uppers.length === 0) return undefined;
  const angles = uppers.map((_, k) => ((2 * k + 1) * Math.PI) / (2 * n));
  const across = -uppers[uppers.length - 1]!.re / Math.sin(angles[uppers.length - 1]!);
  const matches = (re: number, im: number): boolean =>
    uppers.every((pole, k) => Math.hypot(pole.re + re * Math.sin(angles[k]!), pole.im - (2 * k + 1 === n ? 0 : im * Math.cos(angles[k]!))) <= 1e-13 * im);
  if (matches(1, 1)) return 1;
  return across > 0 && matches(across, Math.hypot(1, across)) ? { sinh: across } : undefined;
}

function chebyshevOffset(caller: string, n: number, sinh: number, ratio: number, reflected: number): number {
  const inverseRipple = Math.sinh(n * Math.asinh(sinh));
  if (n % 2 === 1) return Math.sinh(Math.asinh(reflected * inverseRipple) / n);
  // Even orders are at the foot of the ripple at zero frequency: the crests pass (1 + ε²) times as much.
  const need = (Math.sqrt(1 + 1 / inverseRipple ** 2) + 1 / inverseRipple) ** 2;
  if (ratio < need * (1 - tabulated)) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: an even-order Chebyshev ladder needs resistances whose ratio is at least ${need.toFixed(6)} for this ripple, ` +
        `as its crests would otherwise pass more power than the source has; got ${Number(ratio.toPrecision(8))}`,
      "Choose a source resistance further from the load's, or an odd order",
    );
  }
  // The values depend on the root of what is left, so that 1e-7 in the ratio would be 1e-3 in them.
  const rest = ratio < need * (1 + tabulated) ? 0 : reflected ** 2 - (4 * ratio) / ((1 + ratio) * inverseRipple) ** 2;
  return Math.sinh(Math.asinh(Math.sqrt(Math.max(rest, 0)) * inverseRipple) / n);
}
