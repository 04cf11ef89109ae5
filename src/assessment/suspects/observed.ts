import { DividingNetworkError } from "../../errors";
import type { Loudspeaker, Place } from "../../loudspeaker";
import { pressuresAt, samePlace } from "../../loudspeaker/internal";
import { compile } from "../../network";
import { checkAir } from "../../physics/internal";
import { sourceResponse } from "../../network/internal";
import { resample, type FrequencyResponse } from "../../response";
import { bandWithout } from "../../response/internal";
import { sampledAt } from "../sampled-at";
import { anchoredGrid, type Band } from "../band";
import { knownBand } from "../load";
import type { WholeMeasurement } from "../model-check";
import { phaseless } from "./phaseless";

/** What was measured of the whole, on one grid, beside what each driver gives per volt. */
export interface Observed {
  /** Hz. */
  readonly frequencies: Float64Array;
  readonly places: readonly ObservedPlace[];
  /** Ω on the grid; NaN where it wasn't measured. */
  readonly impedance?: { readonly re: Float64Array; readonly im: Float64Array; readonly from: number; readonly to: number };
  /** Ω of the source on the grid, for pressures. */
  readonly source?: { readonly re: Float64Array; readonly im: Float64Array };
  /** Every how manieth point of the grid a phase is compared at: it turns more slowly than levels change. */
  readonly phaseStride: number;
  /** m/s, for what a path does to phase. */
  readonly speedOfSound: number;
}

/** One measured pressure and the grid's points at which it counts. */
export interface ObservedPlace extends Place {
  /** Pa for the voltage that it was measured with, magnitude on the grid from `from` to `to` (indices, the end excluded). */
  readonly size: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Pa per volt of the source, by driver: what it gives per volt at its terminals, times the source's voltage. */
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
  /** Pa, the measured one with its phase, on the grid; absent where the phase can't be compared. */
  readonly complex?: { readonly re: Float64Array; readonly im: Float64Array };
  /** Whether it is stated that its phase counts from the drivers' time zero. */
  readonly timed: boolean;
  /** Why the phase can't be compared, in words; absent where it is. */
  readonly levelOnly?: string;
}

/** Points an octave: enough for a resonance of a network, and few enough for hundreds of faults. */
export const PER_OCTAVE = 24;

/** Phases an octave. */
const PHASES_PER_OCTAVE = 12;

/** A third of an octave. */
const THIRD = 2 ** (1 / 3) * (1 - 1e-9);

/** Brings all measurements to one grid that the network's measured impedances cover. */
export function observe(
  caller: string,
  box: Loudspeaker,
  measured: { readonly pressures: readonly WholeMeasurement[]; readonly impedance?: FrequencyResponse },
  perOctave = PER_OCTAVE,
): Observed {
  // Nothing of a network is read before it has been looked at.
  compile(box.network);
  const known = knownBand(box.network);
  const { impedance } = measured;
  const reach = [...measured.pressures.map((whole) => trusted(box, whole)), ...(impedance === undefined ? [] : [bandOf(impedance)])];
  if (reach.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: there must be a measured pressure of the whole or its impedance, got neither`,
      "Measure the loudspeaker's impedance: it alone shows most faults",
    );
  const frequencies = anchoredGrid(
    {
      from: Math.max(known.from, Math.min(...reach.map(({ from }) => from))),
      to: Math.min(known.to, Math.max(...reach.map(({ to }) => to))),
    },
    perOctave,
  );
  if (frequencies.length < 8)
    throw new DividingNetworkError(
      "band-too-narrow",
      `${caller}: what was measured of the whole and the drivers' impedances must share a third of an octave at least, got ${frequencies.length} points`,
      "Measure both over the same band",
    );
  const within = ({ from, to }: { from: number; to: number }) => {
    const first = frequencies.findIndex((frequency) => frequency >= from);
    let end = frequencies.length;
    while (end > 0 && frequencies[end - 1]! > to) end--;
    return { from: first < 0 ? end : first, to: end };
  };
  // What counts nowhere would be explained by anything.
  reach.forEach(({ from, to }, index) => {
    const [low, high] = [Math.max(from, known.from), Math.min(to, known.to)];
    if (high / low >= THIRD) return;
    const what = index < measured.pressures.length ? `pressures[${index}]` : "impedance";
    throw new DividingNetworkError(
      "band-too-narrow",
      `${caller}: "measured.${what}" must share a third of an octave with what is known of the drivers, got ${inHertz({ from, to })} against impedances from ${inHertz(known)}`,
      "Measure both over the same band, or leave that measurement out",
    );
  });
  const places = measured.pressures.map((whole, index): ObservedPlace => {
    const { from, to } = within(reach[index]!);
    const part = frequencies.subarray(from, to);
    const [size, wholeRe, wholeIm] = [0, 0, 0].map(() => new Float64Array(frequencies.length)) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const drivers = box.drivers.map(() => ({ re: new Float64Array(frequencies.length), im: new Float64Array(frequencies.length) }));
    if (part.length > 0) {
      const { re, im } = sampledAt(whole.response, part);
      for (let i = 0; i < part.length; i++) size[from + i] = Math.hypot(re[i]!, im[i]!);
      wholeRe.set(re, from);
      wholeIm.set(im, from);
      pressuresAt(caller, box, whole, part).forEach((pressure, driver) => {
        for (let i = 0; i < part.length; i++) {
          drivers[driver]!.re[from + i] = pressure.re[i]! * whole.voltage;
          drivers[driver]!.im[from + i] = pressure.im[i]! * whole.voltage;
        }
      });
    }
    const levelOnly = phaseless(box, whole, reach[index]!);
    return {
      distance: whole.distance,
      azimuth: whole.azimuth,
      elevation: whole.elevation,
      timed: whole.timed === true,
      size,
      from,
      to,
      re: drivers.map(({ re }) => re),
      im: drivers.map(({ im }) => im),
      ...(levelOnly === undefined ? { complex: { re: wholeRe, im: wholeIm } } : { levelOnly }),
    };
  });
  const source = sourceResponse(caller, box.sourceImpedance, frequencies);
  return {
    frequencies,
    places,
    phaseStride: Math.max(1, Math.round(perOctave / PHASES_PER_OCTAVE)),
    speedOfSound: checkAir(caller, box.air).speedOfSound,
    ...(impedance === undefined ? {} : { impedance: onGrid(impedance, frequencies, within(bandOf(impedance))) }),
    ...(source === undefined ? {} : { source }),
  };
}

function onGrid(impedance: FrequencyResponse, frequencies: Float64Array, { from, to }: { from: number; to: number }) {
  const [re, im] = [new Float64Array(frequencies.length).fill(NaN), new Float64Array(frequencies.length).fill(NaN)];
  const found = resample(impedance, frequencies.subarray(from, to), { delay: 0 });
  re.set(found.re, from);
  im.set(found.im, from);
  return { re, im, from, to };
}

/** Where there are data. */
const bandOf = (response: FrequencyResponse) => bandWithout(response, ["no-data"]);

const inHertz = ({ from, to }: Band) => (from < to ? `${from.toPrecision(4)} Hz to ${to.toPrecision(4)} Hz` : "no band");

/** The band that the whole and every driver alone cover at one place, above their gates. */
function trusted(box: Loudspeaker, whole: WholeMeasurement) {
  const alone = box.drivers.map(({ name, pressures }) => {
    const found = pressures.find((pressure) => samePlace(pressure, whole));
    if (found !== undefined) return found.response;
    throw new DividingNetworkError(
      "not-measured",
      `suspects: the whole was measured at ${whole.distance} m, azimuth ${whole.azimuth}°, elevation ${whole.elevation}°, but ${name} alone was not`,
      "Measure each driver alone there, or leave this place out",
    );
  });
  let [from, to] = [20, 20_000];
  for (const response of [whole.response, ...alone]) {
    const band = bandOf(response);
    from = Math.max(from, band.from);
    to = Math.min(to, band.to);
  }
  return { from, to };
}
