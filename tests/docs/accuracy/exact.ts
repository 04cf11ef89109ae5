// What the rows of docs/accuracy.md are computed with: numbers of 60 digits, and series and formulas in them.
import { Decimal } from "decimal.js";
import { seeded } from "../../support/random-network";

export const D = Decimal.clone({ precision: 60, toExpNeg: -60, toExpPos: 60 });
export type Exact = InstanceType<typeof D>;
export const PI = D.acos(-1);

/** One row of the table. */
export interface AccuracyRow {
  /** The call. */
  readonly name: string;
  /** Over what, in words. */
  readonly domain: string;
  /** What it is compared with. */
  readonly route: string;
  /** `"relative"`, or what an absolute error is in. */
  readonly kind: string;
  /** The largest error over the domain's points. */
  readonly worst: () => number;
}

/** Numbers that lie evenly on a logarithmic axis, always the same. */
export function spread(seed: number, count: number, from: number, to: number): number[] {
  const random = seeded(seed);
  return [from, to, ...Array.from({ length: count - 2 }, () => Math.min(to, Math.max(from, from * (to / from) ** random())))];
}

export const largest = (errors: Iterable<number>): number => Array.from(errors).reduce((most, error) => Math.max(most, error), 0);
export const relative = (value: number, exact: Exact): number => Math.abs(new D(value).div(exact).minus(1).toNumber());
export const absolute = (value: number, exact: Exact): number => Math.abs(new D(value).minus(exact).toNumber());

/** Digits enough for a series whose terms grow as eˣ before they fall. */
export const digitsFor = (x: number) => Decimal.clone({ precision: Math.ceil(x / 2.3) + 60 });

export function seriesJ(order: 0 | 1, x: Exact | number): Exact {
  const P = digitsFor(Number(x));
  const quarter = new P(x).div(2).pow(2).neg();
  let term = order === 0 ? new P(1) : new P(x).div(2);
  let sum = term;
  for (let m = 1; m < 2 * Number(x) + 60; m++) {
    term = term.times(quarter).div(m * (m + order));
    sum = sum.plus(term);
  }
  return new D(sum);
}

export function seriesH1(x: number): Exact {
  const P = digitsFor(x);
  const square = new P(x).pow(2);
  let term = square.div(3);
  let sum = term;
  for (let m = 2; m < 2 * x + 60; m++) {
    term = term
      .times(square)
      .neg()
      .div((2 * m - 1) * (2 * m + 1));
    sum = sum.plus(term);
  }
  return new D(sum).times(2).div(PI);
}

/** K and E of a complementary parameter 1 − m, by the arithmetic-geometric mean in 60 digits. */
export function ellipticOf(complement: Exact): { readonly k: Exact; readonly e: Exact } {
  let [a, b] = [new D(1), complement.sqrt()];
  let sum = new D(1).minus(complement).div(2);
  for (let power = new D(1), n = 0; n < 12; n++, power = power.times(2)) {
    const c = a.minus(b).div(2);
    [a, b] = [a.plus(b).div(2), a.times(b).sqrt()];
    sum = sum.plus(power.times(c).times(c));
  }
  const k = PI.div(a.times(2));
  return { k, e: k.times(new D(1).minus(sum)) };
}

export function maxwell(a: number, b: number, d: number): Exact {
  const [A, B] = [new D(a), new D(b)];
  const sum = A.plus(B).pow(2).plus(new D(d).pow(2));
  const square = A.times(B).times(4).div(sum);
  const { k, e } = ellipticOf(A.minus(B).pow(2).plus(new D(d).pow(2)).div(sum));
  const root = square.sqrt();
  return A.times(B)
    .sqrt()
    .times(new D(2).div(root).minus(root).times(k).minus(new D(2).div(root).times(e)))
    .times(1.2566370614359173e-6);
}

export function nagaoka(ratio: Exact): Exact {
  const complement = new D(1).div(ratio.pow(2).plus(1));
  const square = new D(1).minus(complement);
  const { k, e } = ellipticOf(complement);
  return new D(4).div(PI.times(3).times(complement.sqrt())).times(complement.div(square).times(k.minus(e)).plus(e).minus(square.sqrt()));
}

/** Real part of z·J₀(z)/(2·J₁(z)) at z = x·e^(−jπ/4). */
export function skinResistance(x: Exact): Exact {
  const quarter = x.pow(2).div(4);
  const [[a, b], [c, d]] = [0, 1].map((order) => {
    const parts: [Exact, Exact] = [new D(1), new D(0)];
    let term: Exact = new D(1);
    for (let m = 1; m < 2 * x.toNumber() + 60; m++) {
      term = term.times(quarter).div(m * (m + order));
      parts[(m % 2) as 0 | 1] = parts[(m % 2) as 0 | 1].plus(m % 4 < 2 ? term : term.neg());
    }
    return parts;
  }) as [[Exact, Exact], [Exact, Exact]];
  return a
    .times(c)
    .plus(b.times(d))
    .div(c.pow(2).plus(d.pow(2)));
}

/** dB per metre by the formula of ISO 9613-1 as recalled, in 60 digits. */
export function absorption(f: number, celsius: number, humidity: number): Exact {
  const T = new D(celsius).plus("273.15");
  const t = T.div("293.15");
  const h = new D(humidity).times(new D(10).pow(new D("273.16").div(T).pow("1.261").times("-6.8346").plus("4.6151")));
  const oxygen = h.times("0.02").plus(h.pow(2)).times(40400).div(h.plus("0.391")).plus(24);
  const nitrogen = new D(1).div(t.sqrt()).times(
    h
      .times(280)
      .times(t.pow(new D(-1).div(3)).minus(1).times("-4.17").exp())
      .plus(9),
  );
  const square = new D(f).pow(2);
  const relaxing = (size: string, kelvin: string, r: Exact) =>
    new D(kelvin)
      .neg()
      .div(T)
      .exp()
      .times(size)
      .div(r.plus(square.div(r)));
  const relaxation = relaxing("0.01275", "2239.1", oxygen).plus(relaxing("0.1068", "3352", nitrogen));
  return square.times("8.686").times(t.sqrt().times("1.84e-11").plus(t.pow("-2.5").times(relaxation)));
}

/** |H| of a low-pass at a frequency, from the closed form of its family. */
export const butterworthSize = (n: number, u: Exact): Exact =>
  new D(1).div(
    u
      .pow(2 * n)
      .plus(1)
      .sqrt(),
  );
export function chebyshevSize(n: number, rippleDb: number, u: Exact): Exact {
  let [before, now] = [new D(1), u];
  for (let k = 1; k < n; k++) [before, now] = [now, u.times(2).times(now).minus(before)];
  const square = new D(10).pow(new D(rippleDb).div(10)).minus(1);
  return new D(1).div(square.times(now.pow(2)).plus(1).sqrt());
}

/** A complex number in 60 digits. */
export type Pair = readonly [Exact, Exact];
export const pair = (re: Exact | number, im: Exact | number = 0): Pair => [new D(re), new D(im)];
export const plus = (a: Pair, b: Pair): Pair => [a[0].plus(b[0]), a[1].plus(b[1])];
export const times = (a: Pair, b: Pair): Pair => [a[0].times(b[0]).minus(a[1].times(b[1])), a[0].times(b[1]).plus(a[1].times(b[0]))];
export function over(a: Pair, b: Pair): Pair {
  const square = b[0].times(b[0]).plus(b[1].times(b[1]));
  const [re, im] = times(a, [b[0], b[1].neg()]);
  return [re.div(square), im.div(square)];
}
/** e^(jx). */
export const turned = (x: Exact): Pair => [D.cos(x), D.sin(x)];
export const sizeExact = (a: Pair): Exact => a[0].times(a[0]).plus(a[1].times(a[1])).sqrt();
/** How far a complex number is off, of its size or another one. */
export const off = (re: number, im: number, exact: Pair, of: Exact = sizeExact(exact)): number =>
  D.hypot(new D(re).minus(exact[0]), new D(im).minus(exact[1])).div(of).toNumber();
/** 2πf. */
export const omega = (f: Exact | number): Exact => PI.times(2).times(f);
