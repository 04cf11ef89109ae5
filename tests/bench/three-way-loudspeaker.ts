// An invented three-way: the cone and the dome of the two-way, and a midrange cone between them.
import { capacitor, driverImpedance, inductor, loudspeaker, resistor, type Entries, type Loudspeaker } from "dividing-network";
import { measured, monitor, tweeter, woofer } from "../support/two-way";

/** Three drivers, each measured on the axis and at ±20°, on a network of nine parts. */
export function threeWay(): Loudspeaker {
  const mid = driverImpedance({ re: 5.8, le: 0.25e-3, fs: 140, qms: 3, qes: 0.8 });
  const network = {
    L1: [inductor(2.2e-3, { dcr: 0.5 }), "in", "w"],
    C1: [capacitor(47e-6), "w", "gnd"],
    woofer: [woofer, "w", "gnd"],
    C2: [capacitor(47e-6), "in", "m1"],
    L2: [inductor(0.47e-3, { dcr: 0.2 }), "m1", "m2"],
    C3: [capacitor(6.8e-6), "m2", "gnd"],
    R1: [resistor(1), "m2", "m"],
    mid: [mid, "m", "gnd"],
    R2: [resistor(2.2), "in", "a"],
    C4: [capacitor(4.7e-6), "a", "t"],
    L3: [inductor(0.22e-3, { dcr: 0.15 }), "t", "gnd"],
    tweeter: [tweeter, "t", "gnd"],
  } as unknown as Entries;
  const { drivers } = monitor();
  const cone = [0, 20, -20].map((azimuth) => measured(azimuth, 180, 6500 - 20 * Math.abs(azimuth), 2.92e-3, 0.2));
  return loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures: drivers[0]!.pressures },
      { name: "mid", role: "midrange", pressures: cone },
      { name: "tweeter", role: "tweeter", pressures: drivers[1]!.pressures },
    ],
  }) as unknown as Loudspeaker;
}
