// Rows of docs/accuracy.md: parts, drivers, coils and wire.
import { logGrid } from "dividing-network/numeric";
import { solve } from "dividing-network/network";
import {
  bypassedCapacitor,
  capacitor,
  capacitorEsr,
  closedBox,
  closedBoxResponse,
  couplingFromPlacement,
  displacementLevelDb,
  displacementPerVolt,
  driverImpedance,
  driverParameters,
  equivalentPeakDissipationResistance,
  lundinInductance,
  parametersFromAddedMass,
  parametersFromKnownVolume,
  thieleSmall,
  volumeDisplacementFromLevel,
  wheelerSolenoidInductance,
  windingInductance,
  wireDiameter,
  wireGauge,
} from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import {
  absolute,
  D,
  largest,
  maxwell,
  nagaoka,
  off,
  omega,
  over,
  pair,
  PI,
  plus,
  relative,
  spread,
  times,
  type AccuracyRow,
  type Exact,
} from "./exact";

const grid = logGrid(5, 20_000, 80);
const MU = "1.2566370614359173e-6";
/** H of a current sheet, by Lorenz's formula. */
const sheet = (turns: number, radius: number, length: number): Exact =>
  nagaoka(new D(radius).times(2).div(length)).times(PI).times(new D(radius).pow(2)).times(new D(turns).pow(2)).times(MU).div(length);
const shapes = spread(50, 60, 0.01, 1);
/** The pressure of a small piston in a baffle, Pa rms, for 1 mm, 100 cm² and a density of 1.2 kg/m³. */
const pistonPressure = (f: number): Exact => omega(f).pow(2).times("1.2").times("0.01").times("0.001").div(PI.times(2)).div(D.sqrt(2));

/** Rows of the parts' floor. */
export const partRows: readonly AccuracyRow[] = [
  {
    name: "capacitorEsr({ capacitance, dissipationFactor, frequency })",
    domain: "1 nF to 1 mF at 1 kHz",
    route: "tan δ/ωC in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(51, 100, 1e-9, 1e-3).map((capacitance) =>
          relative(
            capacitorEsr({ capacitance, dissipationFactor: 0.01, frequency: 1000 }),
            new D("0.01").div(omega(1000)).div(capacitance),
          ),
        ),
      ),
  },
  {
    name: "bypassedCapacitor(main, bypass, frequency).impedance",
    domain: "47 µF and 1 µF with 0.2 Ω and 5 mΩ, 5 Hz to 20 kHz",
    route: "both side by side in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from(grid, (f) => {
          const [x, y] = (
            [
              [47e-6, 0.2],
              [1e-6, 5e-3],
            ] as const
          ).map(([c, r]) => pair(r, new D(-1).div(omega(f)).div(c)));
          const { re, im } = bypassedCapacitor(capacitor(47e-6, { esr: 0.2 }), capacitor(1e-6, { esr: 5e-3 }), f).impedance;
          return off(re, im, over(times(x!, y!), plus(x!, y!)));
        }),
      ),
  },
  {
    name: "closedBox({ … }): fc, qtc, f3",
    domain: "boxes of 2 to 200 litres",
    route: "their formulas in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(52, 60, 0.002, 0.2).flatMap((volume) => {
          const box = closedBox({ fs: 40, qes: 0.4, qms: 4, vas: 0.03, volume });
          const root = D.sqrt(new D(0.03).div(volume).plus(1));
          const q = root.times(0.4).times(4).div(new D(0.4).plus(4));
          const half = new D(1).div(q.pow(2)).minus(2).div(2);
          return [
            relative(box.fc, root.times(40)),
            relative(box.qtc, q),
            relative(box.f3, root.times(40).times(D.sqrt(half.plus(D.sqrt(half.pow(2).plus(1)))))),
          ];
        }),
      ),
  },
  {
    name: "closedBoxResponse(frequencies, { fc, qtc })",
    domain: "5 Hz to 20 kHz, Q of 0.5 to 2",
    route: "s²/(s² + s/Q + 1) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [0.5, 0.71, 2].flatMap((qtc) => {
          const { re, im } = closedBoxResponse(grid, { fc: 60, qtc });
          return Array.from(grid, (f, i) => {
            const x = new D(f).div(60);
            return off(re[i]!, im[i]!, over(pair(x.pow(2).neg()), pair(new D(1).minus(x.pow(2)), x.div(qtc))));
          });
        }),
      ),
  },
  {
    name: "driverImpedance({ re, le, fs, qms, qes })",
    domain: "5 Hz to 20 kHz, solved",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () => {
      const cone = driverImpedance({ re: 5.6, le: 4e-4, fs: 47, qms: 3.3, qes: 0.45 });
      const { re, im } = solve({ cone: [cone, "in", "gnd"] }, grid).impedance;
      return largest(
        Array.from(grid, (f, i) => {
          const x = new D(f).div(47);
          const motion = over(pair(new D(5.6).times(3.3).div(0.45)), pair(1, x.minus(new D(1).div(x)).times(3.3)));
          return off(re[i]!, im[i]!, plus(pair(5.6, omega(f).times(4e-4)), motion));
        }),
      );
    },
  },
  {
    name: "driverParameters(impedance): fs, qms, qes",
    domain: "the impedance of a driver of 5.7 Ω, 47.3 Hz, Q of 3.7 and 0.41, 100 points to the decade",
    route: "the values that it was made with",
    kind: "relative",
    worst: () => {
      const f = logGrid(10, 1000, 200);
      const x = f.map((hz) => 3.7 * (hz / 47.3 - 47.3 / hz));
      const most = (5.7 * 3.7) / 0.41;
      const z = frequencyResponse(
        f,
        x.map((v) => 5.7 + most / (1 + v * v)),
        x.map((v) => (-most * v) / (1 + v * v)),
      );
      const { model } = driverParameters(z, { coil: "none" }).fit;
      return Math.max(Math.abs(model.fs! / 47.3 - 1), Math.abs(model.qms! / 3.7 - 1), Math.abs(model.qes! / 0.41 - 1));
    },
  },
  {
    name: "equivalentPeakDissipationResistance(impedance)",
    domain: "phases of −90° to 90°",
    route: "the highest of 1e5 instants of a period, and a parabola through it",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 37 }, (_, i) => (5 * i - 90) * (Math.PI / 180)).map((phase) => {
          const heat = (t: number) => (1 - Math.sin(t)) * Math.sin(t - phase);
          const step = (2 * Math.PI) / 1e5;
          let best = 0;
          for (let i = 1; i < 1e5; i++) if (heat(i * step) > heat(best * step)) best = i;
          const [below, here, above] = [heat((best - 1) * step), heat(best * step), heat((best + 1) * step)];
          const most = here - (above - below) ** 2 / (8 * (above - 2 * here + below));
          const ours = equivalentPeakDissipationResistance({ re: 8 * Math.cos(phase), im: 8 * Math.sin(phase) });
          return Math.abs(ours / (8 / (4 * most)) - 1);
        }),
      ),
  },
  {
    name: "displacementPerVolt(frequencies, driver)",
    domain: "5 Hz to 20 kHz",
    route: "force over impedance in 60 digits",
    kind: "relative",
    worst: () => {
      const { re, im } = displacementPerVolt(grid, { re: 5.8, le: 5e-4, bl: 7, mms: 0.015, cms: 8e-4, rms: 1.2 });
      return largest(
        Array.from(grid, (f, i) => {
          const w = omega(f);
          const mechanical = pair(new D(1).div(8e-4).minus(w.pow(2).times(0.015)), w.times(1.2));
          const below = plus(times(pair(5.8, w.times(5e-4)), mechanical), pair(0, w.times(49)));
          return off(re[i]!, im[i]!, over(pair(7), below));
        }),
      );
    },
  },
  {
    name: "displacementLevelDb({ … }), volumeDisplacementFromLevel({ … })",
    domain: "10 Hz to 1 kHz, 1 mm, 100 cm², and back again",
    route: "ρ S ω² x/2πr in 60 digits",
    kind: "dB; relative",
    worst: () =>
      largest(
        spread(53, 60, 10, 1000).flatMap((frequency) => {
          const exact = D.log10(pistonPressure(frequency).div("2e-5")).times(20);
          const air = { density: 1.2 };
          return [
            absolute(displacementLevelDb({ displacement: 1e-3, sd: 0.01, frequency, air }), exact),
            relative(volumeDisplacementFromLevel({ levelDb: exact.toNumber(), frequency, air }), new D("1e-5")),
          ];
        }),
      ),
  },
  {
    name: "parametersFromAddedMass({ … }).mms, parametersFromKnownVolume({ … }).mms",
    domain: "moving masses of 1 to 100 g",
    route: "the constants that the resonances were made with",
    kind: "relative",
    worst: () =>
      largest(
        spread(54, 40, 1e-3, 0.1).flatMap((mms) => {
          const air = { speedOfSound: 343, density: 1.2 };
          const { fs, qms, qes, vas } = thieleSmall({ re: 6, bl: 7, mms, cms: 1e-3, rms: 1, sd: 0.013, air });
          const known = { re: 6, fs, qms, qes, sd: 0.013, air };
          return [
            relative(parametersFromAddedMass({ ...known, addedMass: mms, fsWithMass: fs / Math.SQRT2 }).mms, new D(mms)),
            relative(parametersFromKnownVolume({ ...known, volume: vas, fc: fs * Math.SQRT2 }).mms, new D(mms)),
          ];
        }),
      ),
  },
  {
    name: "windingInductance({ turns, meanRadius, length, depth: 0 })",
    domain: "a layer of 100 turns, 2 cm in radius, 1 cm to 1 m long",
    route: "Lorenz's formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        shapes.map((length) => relative(windingInductance({ turns: 100, meanRadius: 0.02, length, depth: 0 }), sheet(100, 0.02, length))),
      ),
  },
  {
    name: "couplingFromPlacement(coilA, coilB, place).mutualInductance",
    domain: "thin coils of 2 and 3 cm on one axis, 2 cm to 1 m apart",
    route: "Maxwell's formula in 60 digits",
    kind: "relative",
    worst: () => {
      const coil = (meanRadius: number) => ({ turns: 1, meanRadius, length: 1e-6 * meanRadius, depth: 1e-6 * meanRadius });
      return largest(
        spread(55, 20, 0.02, 1).map((z) =>
          relative(
            couplingFromPlacement(coil(0.02), coil(0.03), { x: 0, y: 0, z, axis: { x: 0, y: 0, z: 1 } }).mutualInductance,
            maxwell(0.02, 0.03, z),
          ),
        ),
      );
    },
  },
  {
    name: "lundinInductance({ turns, radius, length })",
    domain: "1 cm to 1 m long, 2 cm in radius; an approximation",
    route: "Lorenz's formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(shapes.map((length) => relative(lundinInductance({ turns: 100, radius: 0.02, length }), sheet(100, 0.02, length)))),
  },
  {
    name: "wheelerSolenoidInductance({ turns, radius, length })",
    domain: "lengths above 0.8 of the radius, 2 cm to 1 m; an approximation",
    route: "Lorenz's formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        shapes
          .filter((length) => length > 0.016)
          .map((length) => relative(wheelerSolenoidInductance({ turns: 100, radius: 0.02, length }), sheet(100, 0.02, length))),
      ),
  },
  {
    name: "wireDiameter({ awg }), wireGauge({ diameter })",
    domain: "gauges 0 to 40, and back again",
    route: "0.127 mm · 92^((36 − n)/39) in 60 digits",
    kind: "relative; gauges",
    worst: () =>
      largest(
        Array.from({ length: 41 }, (_, awg) => awg).flatMap((awg) => {
          const exact = new D(92).pow(new D(36 - awg).div(39)).times("0.127e-3");
          return [relative(wireDiameter({ awg }), exact), Math.abs(wireGauge({ diameter: exact.toNumber() }) - awg)];
        }),
      ),
  },
];
