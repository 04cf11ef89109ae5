import { capacitor, driverImpedance, frequencyResponse, inductor, logGrid, network, resistor } from "dividing-network";
import { sumObjective } from "dividing-network/network";
import { usualTime, paired } from "./timing";

/** A two-way of six parts: candidates a second, by changing one value after another. */
export function candidates(): { readonly perSecond: number; readonly rankOne: number } {
  const points = logGrid(300, 12_000, 100);
  const twoWay = network({
    L1: [inductor(0.7e-3, { dcr: 0.3 }), "in", "w"],
    C2: [capacitor(20e-6, { esr: 0.05 }), "w", "gnd"],
    woofer: [driverImpedance({ re: 5.5, le: 0.5e-3, fs: 60, qms: 3, qes: 0.5 }), "w", "gnd"],
    R1: [resistor(2), "in", "a"],
    C1: [capacitor(8e-6), "a", "t"],
    L2: [inductor(0.3e-3, { dcr: 0.2 }), "t", "gnd"],
    R2: [resistor(15), "t", "gnd"],
    tweeter: [driverImpedance({ re: 5, le: 0.05e-3, fs: 800, qms: 2, qes: 1 }), "t", "gnd"],
  });
  const pressure = frequencyResponse(
    points,
    points.map(() => 1),
    points.map(() => 0),
  );
  const objective = sumObjective(twoWay, { frequencies: points, contributions: { woofer: pressure, tweeter: pressure }, target: 1 });
  const values = Float64Array.from(objective.variables, ({ value }) => value);
  let [seed, sum] = [1, 0];
  const batch = () => {
    for (let i = 0; i < 200; i++) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      const at = i % values.length;
      values[at] = objective.variables[at]!.value * (0.5 + seed / 2 ** 32);
      sum += objective.loss(values);
    }
  };
  const taken = usualTime(batch, 400);
  const start = Float64Array.from(objective.variables, ({ value }) => value);
  const along = objective.along(start, 1);
  const oneByOne = () => {
    for (let i = 0; i < 200; i++) sum += along(start[1]! * (0.5 + i / 200));
  };
  const anew = () => {
    for (let i = 0; i < 200; i++) {
      values[1] = start[1]! * (0.5 + i / 200);
      sum += objective.loss(values);
    }
  };
  values.set(start);
  const { ratio } = paired(oneByOne, anew, 300);
  if (!Number.isFinite(sum)) throw new Error("a candidate had no loss");
  return { perSecond: 200 / (taken / 1000), rankOne: ratio };
}
