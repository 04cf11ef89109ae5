import { checkNumber, checkOptions } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Entries } from "../network";
import { frequencyResponse, type FrequencyResponse } from "../response";
import { assess, type AssessOptions } from "./assess";
import { compare } from "./compare";
import type { TopicName } from "./planes";
import type { Overall } from "./judgement";

/** What `dataSensitivity` takes. */
export interface DataSensitivityOptions extends AssessOptions {
  /** ± dB by which a driver's measured pressures may all be wrong; default 1 dB (choice, no source). */
  readonly levelDb?: number | undefined;
  /** ± degrees by which their phase may all be wrong; default 5° (choice, no source). */
  readonly phaseDegrees?: number | undefined;
}

/** The verdict if one driver's data were wrong by so much. */
export interface DataErrorCase {
  /** Whose measured pressures. */
  readonly driver: string;
  /** What is wrong with them. */
  readonly error: "level" | "phase";
  /** dB or degrees, with its sign. */
  readonly by: number;
  /** The verdict then. */
  readonly overall: Overall;
  /** Topics whose change reads otherwise then. */
  readonly otherwise: readonly TopicName[];
}

/** How far a verdict hangs on the data. */
export interface DataSensitivity {
  /** The verdict with the data as measured. */
  readonly overall: Overall;
  /** Whether it is the same in every case. */
  readonly firm: boolean;
  /** Each driver's level and phase, up and down. */
  readonly cases: readonly DataErrorCase[];
  /** In words. */
  readonly sentence: string;
}

/**
 * What would change a verdict: the comparison of two networks, judged again with each driver's measured pressures wrong by a level and by a phase, up and
 * down, before and after alike. One error at a time, the same at all frequencies and places; a driver's impedance stays as measured.
 *
 * @param found the loudspeaker as found
 * @param proposed the same drivers with the new network
 * @param options `ratedImpedance` in Ω; `goal`; `levelDb` in dB; `phaseDegrees` in degrees
 * @returns the verdict, whether it holds in every case, and the cases (dB, degrees)
 * @throws DividingNetworkError what `assess` and `compare` throw
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { dataSensitivity } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 20_000, 400);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const made = (farads: number) => loudspeaker({
 *   network: { L1: [inductor("0.4244 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor(farads), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * });
 * const found = dataSensitivity(made(22e-6), made(6.631e-6), { ratedImpedance: 8 });
 * found.overall; // "better"
 * found.cases.length; // 8
 * ```
 */
export function dataSensitivity<T extends Entries, U extends Entries>(
  found: Loudspeaker<T>,
  proposed: Loudspeaker<U>,
  options: DataSensitivityOptions,
): DataSensitivity {
  const caller = "dataSensitivity";
  const {
    levelDb: level,
    phaseDegrees: phase,
    ...judged
  } = checkOptions(caller, options, ["ratedImpedance", "goal", "levelDb", "phaseDegrees"]);
  const levelDb = checkNumber(caller, "levelDb", level ?? 1, { above: 0, max: 40, unit: "dB" });
  const phaseDegrees = checkNumber(caller, "phaseDegrees", phase ?? 5, { above: 0, max: 180, unit: "degrees" });
  const [before, after] = [checkLoudspeaker(caller, found), checkLoudspeaker(caller, proposed)];
  const verdictOf = (driver?: string, factor?: Factor) =>
    compare(assess(wrong(before, driver, factor), judged), assess(wrong(after, driver, factor), judged)).verdict;
  const { overall, topics } = verdictOf();
  const names = [...new Set([...before.drivers, ...after.drivers].map(({ name }) => name))];
  const cases = names.flatMap((driver) =>
    (
      [
        ["level", levelDb],
        ["level", -levelDb],
        ["phase", phaseDegrees],
        ["phase", -phaseDegrees],
      ] as const
    ).map(([error, by]): DataErrorCase => {
      const angle = error === "phase" ? (by * Math.PI) / 180 : 0;
      const size = error === "level" ? 10 ** (by / 20) : 1;
      const then = verdictOf(driver, { re: size * Math.cos(angle), im: size * Math.sin(angle) });
      return Object.freeze({
        driver,
        error,
        by,
        overall: then.overall,
        otherwise: Object.freeze(
          then.topics.filter(({ topic, change }) => topics.find((own) => own.topic === topic)?.change !== change).map(({ topic }) => topic),
        ),
      });
    }),
  );
  const others = cases.filter((one) => one.overall !== overall);
  const sentence =
    others.length === 0
      ? `The verdict, ${overall}, stays the same if any driver's measured level is wrong by ${levelDb} dB, or its phase by ${phaseDegrees}°.`
      : `The verdict, ${overall}, would be otherwise if ${others.map(({ driver, error, by, overall: then }) => `the ${error} of the ${driver} were ${by > 0 ? "+" : "−"}${Math.abs(by)}${error === "level" ? " dB" : "°"} off (${then})`).join(", or if ")}.`;
  return Object.freeze({ overall, firm: others.length === 0, cases: Object.freeze(cases), sentence });
}

interface Factor {
  readonly re: number;
  readonly im: number;
}

/** A loudspeaker whose driver has other pressures than measured. */
function wrong(box: Loudspeaker, driver: string | undefined, factor: Factor | undefined): Loudspeaker {
  if (driver === undefined || factor === undefined) return box;
  const turned = ({ frequencies, re, im, marks }: FrequencyResponse) =>
    frequencyResponse(
      frequencies,
      re.map((value, i) => value * factor.re - im[i]! * factor.im),
      im.map((value, i) => value * factor.re + re[i]! * factor.im),
      marks,
    );
  return {
    ...box,
    drivers: box.drivers.map((own) =>
      own.name === driver
        ? { ...own, pressures: own.pressures.map((pressure) => Object.freeze({ ...pressure, response: turned(pressure.response) })) }
        : own,
    ),
  };
}
