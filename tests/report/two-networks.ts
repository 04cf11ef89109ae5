// A network as found and one that is proposed, on resistors for drivers, as two tests of comparisons have them.
import { loudspeaker, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, inductor, resistor } from "dividing-network/parts";

export const found: Entries = {
  L1: [inductor("0.1 mH"), "in", "w"],
  woofer: [resistor(8), "w", "gnd"],
  C1: [capacitor("22 µF"), "in", "t"],
  tweeter: [resistor(8), "t", "gnd"],
};
export const proposed: Entries = {
  L1: [inductor("0.64 mH"), "in", "w"],
  woofer: [resistor(8), "w", "gnd"],
  C1: [capacitor("10 µF"), "in", "t"],
  R1: [resistor("4.7 Ω"), "t", "x"],
  tweeter: [resistor(8), "x", "gnd"],
};

/** Both drivers on one network, each measured on its axis and 20° to either side. */
export function boxWith(flat: (gain: number, azimuth?: number) => PressurePerVolt): (network: Entries) => Loudspeaker {
  return (network) =>
    loudspeaker({
      network,
      drivers: (["woofer", "tweeter"] as const).map((name) => ({
        name,
        role: name,
        pressures: [flat(0.1), flat(0.08, 20), flat(0.09, -20)],
      })),
    });
}
