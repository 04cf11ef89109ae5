// A small invented two-way project whose files are computed here from closed forms, by arithmetic of this file alone.
import { readProject, type LoadedProject } from "dividing-network/project";

export interface Complexish {
  readonly re: number;
  readonly im: number;
}

export const frequencies = Array.from({ length: 121 }, (_, i) => 100 * 2 ** (i / 15));
export const times = (a: Complexish, b: Complexish): Complexish => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re });
export const over = (a: Complexish, b: Complexish): Complexish => {
  const size = b.re ** 2 + b.im ** 2;
  return { re: (a.re * b.re + a.im * b.im) / size, im: (a.im * b.re - a.re * b.im) / size };
};
export const plus = (a: Complexish, b: Complexish): Complexish => ({ re: a.re + b.re, im: a.im + b.im });
export const turned = (size: number, degrees: number): Complexish => ({
  re: size * Math.cos((degrees * Math.PI) / 180),
  im: size * Math.sin((degrees * Math.PI) / 180),
});

/** A text of three columns. */
export const columns = (at: (f: number) => readonly number[], grid: readonly number[] = frequencies): string =>
  grid.map((f) => [f, ...at(f)].join("\t")).join("\n");
export const reIm = (at: (f: number) => Complexish, grid?: readonly number[]): string => columns((f) => [at(f).re, at(f).im], grid);

/** Impedances: resistance and inductance in series. */
export const wooferImpedance = (f: number): Complexish => ({ re: 6, im: 2 * Math.PI * f * 0.0004 });
export const tweeterImpedance = (f: number): Complexish => ({ re: 5, im: 2 * Math.PI * f * 0.00005 });
/** Pressures per volt at the terminals, at 1 m: a level and a flight. */
export const wooferPressure = (f: number): Complexish => turned(0.4, -360 * f * 0.0029);
export const tweeterPressure = (f: number): Complexish => turned(0.3, -360 * f * 0.00292);

const measurement = (of: string, file: string): Record<string, unknown> => ({
  of,
  quantity: "pressure",
  columns: "re-im",
  drive: { voltage: 2, at: "terminals" },
  distance: 1,
  rotationCentre: { x: 0, y: 0, z: 0 },
  timeZero: { common: true },
  trusted: { from: 100, to: 20000 },
  smoothing: "none",
  files: [{ azimuth: 0, elevation: 0, file }],
});

type Json = Record<string, unknown>;

/** The project's data, fresh on each call, to be changed at will. */
// eslint-disable-next-line @typescript-eslint/no-explicit-any -- tests change what the types forbid
export function projectData(): any {
  const parts = (): Json[] => [
    { name: "L1", kind: "inductor", inductance: "0.5 mH", dcr: "0.2 Ω", nodes: ["in", "w"] },
    { name: "C1", kind: "capacitor", capacitance: "10 µF", nodes: ["in", "t"] },
    { name: "woofer", kind: "driver", nodes: ["w", "gnd"] },
    { name: "tweeter", kind: "driver", nodes: ["gnd", "t"] },
  ];
  return {
    version: 1,
    name: "Invented two-way",
    ratedImpedance: "6 Ω",
    air: { temperature: 20 },
    amplifier: { outputResistance: "0.1 Ω", cableResistance: "0.3 Ω", cableInductance: "3 µH" },
    drivers: [
      { name: "woofer", position: { x: 0, y: 0, z: -0.1 }, impedance: { file: "data/woofer-z.txt", columns: "re-im" }, role: "woofer" },
      { name: "tweeter", position: { x: 0, y: 0, z: 0.1 }, impedance: { file: "data/tweeter-z.txt", columns: "re-im" }, role: "tweeter" },
    ],
    measurements: [measurement("woofer", "data/woofer.txt"), measurement("tweeter", "data/tweeter.txt")],
    networks: { found: { parts: parts() }, proposed: { parts: parts() } },
  };
}

/** The files beside it: pressures for a drive of 2 V. */
export function projectFiles(): Record<string, string> {
  return {
    "data/woofer-z.txt": reIm(wooferImpedance),
    "data/tweeter-z.txt": reIm(tweeterImpedance),
    "data/woofer.txt": reIm((f) => times({ re: 2, im: 0 }, wooferPressure(f))),
    "data/tweeter.txt": reIm((f) => times({ re: 2, im: 0 }, tweeterPressure(f))),
  };
}

/** V(part)/V(source) and the current from the source per volt, by hand. */
export function byHand(f: number): { readonly woofer: Complexish; readonly tweeter: Complexish; readonly impedance: Complexish } {
  const w = 2 * Math.PI * f;
  const one = { re: 1, im: 0 };
  const low = plus({ re: 0.2, im: w * 0.0005 }, wooferImpedance(f));
  const high = plus({ re: 0, im: -1 / (w * 1e-5) }, tweeterImpedance(f));
  const impedance = over(one, plus(over(one, low), over(one, high)));
  const atIn = over(impedance, plus(impedance, { re: 0.4, im: w * 3e-6 }));
  return {
    woofer: times(atIn, over(wooferImpedance(f), low)),
    // Its + hangs on gnd: reversed.
    tweeter: times({ re: -1, im: 0 }, times(atIn, over(tweeterImpedance(f), high))),
    impedance,
  };
}

/** Reads a project of these data; a file that isn't there is refused as Node's file system does. */
export function load(data: unknown, files: Readonly<Record<string, string>> = projectFiles()): Promise<LoadedProject> {
  return readProject(typeof data === "string" ? data : JSON.stringify(data, null, 2), {
    file: "monitor.json",
    readFile: (path) =>
      Object.hasOwn(files, path)
        ? Promise.resolve(files[path]!)
        : Promise.reject(Object.assign(new Error(`ENOENT: no such file, open '${path}'`), { code: "ENOENT" })),
  });
}
