import { DividingNetworkError } from "../../errors";
import type { WorkingBuilder } from "../../quantity";
import type { TransferFunction } from "../../response";
import { statedAccuracy } from "./check-elements";
import { unrealisable } from "./reflection";

const source = "closed form after Takahasi (1951)";

type Given = readonly [value: number, unit: string];

/** Half a unit of the last of six printed decimals: a ratio this near to the least one is that one, copied from a table. */
const tabulated = 4e-7;

/** Elements in closed form. */
export interface ClosedForm {
  /** Source to load, relative to the source's resistance, at a corner of 1 rad/s. */
  readonly elements: number[];
  /** rad/s: the corner of the function given. */
  readonly scale: number;
  /** How near to the function they come, of its passband. */
  readonly within: number;
}

/**
 * The elements of a Butterworth or Chebyshev ladder of any corner between two resistances in closed form, source to load, relative to
 * the source's resistance; undefined for any other function. After Takahasi (1951).
 *
 * $g_1 = \frac{2\sin\gamma_1}{x - y}$,
 * $g_k g_{k+1} = \frac{4\sin\gamma_{2k-1}\sin\gamma_{2k+1}}{x^2 + y^2 - 2xy\cos\gamma_{2k} + c\sin^2\gamma_{2k}}$,
 * $\gamma_m = m\pi/2n$; Butterworth: x = 1, y = ((ρ−1)/(ρ+1))^{1/n}, c = 0; Chebyshev: x = sinh(asinh(1/ε)/n), y =
 * sinh(asinh(√(1−K)/ε)/n), c = 1, where K is the share of power passed at the crests. With d = x − y, which is found without
 * cancellation, the denominator is $d^2 + 4xy\sin^2\gamma_k + c\sin^2\gamma_{2k}$.
 */
export function closedFormLadder(
  caller: string,
  poles: TransferFunction["poles"],
  ratio: number,
  steps: WorkingBuilder,
): ClosedForm | undefined {
  const n = poles.length;
  const known = recognised(poles);
  if (known === undefined) return undefined;
  const { x, scale } = known;
  if (n % 2 === 0 && ratio < 1) throw unrealisable(caller, ratio);
  const { y, d, within } = x === undefined ? butterworthOffset(n, ratio) : chebyshevOffset(caller, n, x, ratio);
  const [size, c] = x === undefined ? [1, 0] : [x, 1];
  const elements = [
    steps.step(
      "h1",
      "",
      { formula: "2 sin(π/(2n)) / d", tex: "h_1 = \\frac{2\\sin(\\pi/2n)}{d},\\quad d = x - y", source },
      { n: [n, ""], d: [d, ""] },
      (v) => (2 * Math.sin(Math.PI / (2 * v.n))) / v.d,
    ),
  ];
  for (let k = 1; k < n; k++) {
    // x² + y² − 2xy cos α without cancellation
    const formula = `4 sin((2k − 1)π/(2n)) sin((2k + 1)π/(2n)) / ((d² + 4 x y sin(kπ/(2n))² + c sin(kπ/n)²) h${k})`;
    const upper = "4\\sin\\frac{(2k-1)\\pi}{2n}\\sin\\frac{(2k+1)\\pi}{2n}";
    const tex = `h_{${k + 1}} = \\frac{${upper}}{(d^2 + 4xy\\sin^2\\frac{k\\pi}{2n} + c\\sin^2\\frac{k\\pi}{n})\\,h_{${k}}}`;
    const before = `h${k}`;
    const inputs: Readonly<Record<"k" | "n" | "x" | "y" | "d" | "c", Given>> & Readonly<Record<string, Given>> = {
      k: [k, ""],
      n: [n, ""],
      x: [size, ""],
      y: [y, ""],
      d: [d, ""],
      c: [c, ""],
      [before]: [elements[k - 1]!, ""],
    };
    elements.push(
      steps.step(`h${k + 1}`, "", { formula, tex, source }, inputs, (v) => {
        const half = Math.PI / (2 * v.n);
        const distance = v.d ** 2 + 4 * v.x * v.y * Math.sin(v.k * half) ** 2;
        return (
          (4 * Math.sin((2 * v.k - 1) * half) * Math.sin((2 * v.k + 1) * half))
          / (distance + v.c * Math.sin(2 * v.k * half) ** 2)
          / v[before]!
        );
      }),
    );
  }
  return { elements, scale, within };
}

/** The corner of Butterworth poles; that of Chebyshev poles with x = sinh a, their ellipse having the half-axes sinh a and cosh a times the corner. */
function recognised(poles: TransferFunction["poles"]): { readonly x?: number; readonly scale: number } | undefined {
  const n = poles.length;
  const uppers = poles.filter(({ im }) => im >= 0).sort((a, b) => b.im - a.im);
  if (uppers.length !== Math.ceil(n / 2) || uppers.length === 0) return undefined;
  const angles = uppers.map((_, k) => ((2 * k + 1) * Math.PI) / (2 * n));
  const matches = (re: number, im: number): boolean =>
    uppers.every(
      (pole, k) =>
        Math.hypot(pole.re + re * Math.sin(angles[k]!), pole.im - (2 * k + 1 === n ? 0 : im * Math.cos(angles[k]!))) <= 1e-13 * im,
    );
  // The geometric mean; relative to one of the poles, so that the logarithms of nearly equal sizes keep their digits.
  const one = Math.hypot(uppers[0]!.re, uppers[0]!.im);
  const mean = one * Math.exp(poles.reduce((sum, { re, im }) => sum + Math.log(Math.hypot(re, im) / one), 0) / n);
  const radius = Math.abs(mean - 1) < 1e-15 ? 1 : mean;
  if (matches(radius, radius)) return { scale: radius };
  const across = -uppers[uppers.length - 1]!.re / Math.sin(angles[uppers.length - 1]!);
  if (!(across > 0)) return undefined;
  if (matches(across, Math.hypot(1, across))) return { x: across, scale: 1 };
  // Any two complex poles are those of some Chebyshev function of order 2, and one next to a circle has no corner to be found.
  const along = uppers[0]!.im / Math.cos(angles[0]!);
  const scale = Math.sqrt((along - across) * (along + across));
  return n > 2 && scale > 0.01 * along && matches(across, along) ? { x: across / scale, scale } : undefined;
}

/** y of the closed form, and d = x − y, which would cancel where the resistances are far apart. */
interface Offset {
  readonly y: number;
  readonly d: number;
  readonly within: number;
}

function butterworthOffset(n: number, ratio: number): Offset {
  const reflected = Math.abs(ratio - 1) / (ratio + 1);
  const root = reflected ** (1 / n);
  if (ratio < 1) return { y: -root, d: 1 + root, within: statedAccuracy };
  return { y: root, d: reflected < 0.5 ? 1 - root : -Math.expm1(Math.log1p(-2 / (1 + ratio)) / n), within: statedAccuracy };
}

function chebyshevOffset(caller: string, n: number, x: number, ratio: number): Offset {
  const u = Math.sinh(n * Math.asinh(x));
  const reflected = Math.abs(ratio - 1) / (ratio + 1);
  // 1 − reflected²
  const passed = (4 * ratio) / (1 + ratio) ** 2;
  if (n % 2 === 1) return offset(n, x, u, reflected * u, passed * u ** 2, ratio < 1 ? -1 : 1);
  // Even orders are at the foot of the ripple at zero frequency: the crests pass (1 + ε²) times as much.
  const need = (Math.sqrt(1 + 1 / u ** 2) + 1 / u) ** 2;
  if (ratio < need * (1 - tabulated)) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: an even-order Chebyshev ladder needs resistances whose ratio is at least ${need.toFixed(6)} for this ripple, `
        + `as its crests would otherwise pass more power than the source has; got ${Number(ratio.toPrecision(8))}`,
      "Choose a source resistance further from the load's, or an odd order",
    );
  }
  // The values depend on the root of what is left, so that 1e-7 in the ratio would be 1e-3 in them.
  if (ratio < need * (1 + tabulated)) return { y: 0, d: x, within: tabulated };
  const rest = Math.max(reflected ** 2 - passed / u ** 2, 0);
  return offset(n, x, u, Math.sqrt(rest) * u, passed * (u ** 2 + 1), 1);
}

/** x = sinh(asinh(u)/n) and y = ±sinh(asinh(v)/n), with u² − v² given. */
function offset(n: number, x: number, u: number, v: number, difference: number, sign: 1 | -1): Offset {
  const [a, b] = [Math.asinh(u) / n, Math.asinh(v) / n];
  const y = sign * Math.sinh(b);
  // asinh u − asinh v = asinh((u² − v²)/(u√(1 + v²) + v√(1 + u²)))
  const apart = Math.asinh(difference / (u * Math.hypot(1, v) + v * Math.hypot(1, u))) / n;
  return { y, d: sign < 0 ? x - y : 2 * Math.cosh((a + b) / 2) * Math.sinh(apart / 2), within: statedAccuracy };
}
