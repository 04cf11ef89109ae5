// Tests src/report/: comparison-shape.ts, shape.ts
// A comparison of which something is missing or of another kind, as hands and files make them, is refused by the place of what is wrong. One value at a
// time is damaged, and what isn't refused must still read without a NaN.
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network";
import { assess, compare } from "dividing-network/assessment";
import { predict } from "dividing-network/loudspeaker";
import { buildSheet, buildSheetText, comparisonPage, comparisonText } from "dividing-network/report";
import { scaleResponse } from "dividing-network/response";
import { flatDriver } from "../support/flat-driver";
import { boxWith, found as foundNetwork, proposed as proposedNetwork } from "./two-networks";

const grid = Float64Array.from({ length: 60 }, (_, index) => 125 * 2 ** (index / 8));
const flat = (gain: number, azimuth = 0) => flatDriver(grid, gain, azimuth);
const box = boxWith(flat);
const [found, proposed] = [box(foundNetwork), box(proposedNetwork)];
const goal = { amplifier: { voltage: 20 } };
const whole = compare(assess(found, { ratedImpedance: 8, goal }), assess(proposed, { ratedImpedance: 8, goal }), {
  measured: {
    pressures: predict(found).places.map(({ distance, azimuth, elevation, sum }) => ({
      distance,
      azimuth,
      elevation,
      response: scaleResponse(sum, 1.2),
      voltage: 2.83,
    })),
  },
  repeatability: { levelDb: 2 },
});

type Damage = (by: unknown) => unknown;
/** Each value of a comparison, of lists the first, with what puts another in its place. */
function places(value: object, path: string, put: (by: unknown) => unknown): [path: string, value: unknown, damage: Damage][] {
  return Object.entries(value)
    .filter(([key]) => !Array.isArray(value) || key === "0")
    .flatMap(([key, inner]: [string, unknown]) => {
      const damage: Damage = (by) =>
        put(Array.isArray(value) ? value.map((each: unknown, index) => (String(index) === key ? by : each)) : { ...value, [key]: by });
      const at = `${path}.${key}`;
      const deeper =
        typeof inner === "object" && inner !== null && !ArrayBuffer.isView(inner) && key !== "loudspeaker" && at.split(".").length <= 5;
      return [[at, inner, damage] as [string, unknown, Damage], ...(deeper ? places(inner, at, damage) : [])];
    });
}
const damages = (value: unknown): unknown[] =>
  typeof value === "number" ? [NaN, undefined] : typeof value === "object" ? [undefined, null, {}] : [undefined, 5];

function faultOf(call: () => string): "refused" | "read" | string {
  try {
    const text = call().replace(/<style[\s\S]*?<\/style>/, "");
    return /NaN|undefined|\[object/.exec(text)?.[0] ?? "read";
  } catch (error) {
    return error instanceof DividingNetworkError ? "refused" : String(error);
  }
}

describe("a damaged comparison", () => {
  it("is refused by the place of what is wrong, or read without it", () => {
    const faults: string[] = [];
    let refused = 0;
    for (const [path, value, damage] of places(whole, "", (by) => by))
      for (const by of damages(value)) {
        const broken = damage(by) as typeof whole;
        const calls = {
          comparisonText: () => comparisonText(broken),
          // What takes longer reads the same door: near the top alone.
          ...(path.split(".").length <= 3 ? { buildSheet: () => buildSheetText(buildSheet(broken)) } : {}),
          ...(path.split(".").length <= 2 ? { comparisonPage: () => comparisonPage(broken, { title: "x" }) } : {}),
        };
        for (const [name, call] of Object.entries(calls)) {
          const fault = faultOf(call);
          if (fault === "refused") {
            refused++;
            break;
          }
          if (fault !== "read") faults.push(`${name}: ${path} = ${String(by)}: ${fault}`);
        }
      }
    expect(faults).toEqual([]);
    expect(refused).toBeGreaterThan(200);
  });

  it("is told where", () => {
    const refusal = (broken: object) => {
      try {
        comparisonText(broken as never);
        return "";
      } catch (error) {
        return (error as Error).message;
      }
    };
    expect(refusal({ ...whole, verdict: undefined })).toContain('comparisonText: "comparison.verdict" must be an object');
    expect(refusal({ ...whole, findings: [{ ...whole.findings[0]!, after: NaN }] })).toContain(
      '"comparison.findings[0].after" must be a number',
    );
    expect(refusal({ ...whole, after: {} })).toContain('"comparison.after.prediction" must be an object');
    const place = (call: () => unknown, message: RegExp) => expect(call).toThrowError(message);
    place(() => buildSheet({ after: {}, verdict: {} } as never), /buildSheet: "of" must be what compare gives/);
    place(() => buildSheet({ ...whole, before: undefined } as never), /buildSheet: "of\.before" must be an object/);
    place(
      () => comparisonPage(whole, { title: "x", alternative: { name: "y", comparison: { ...whole, verdict: null } as never } }),
      /comparisonPage: "alternative\.comparison\.verdict" must be an object/,
    );
  });

  it("isn't one that was copied whole", () => {
    expect(comparisonText({ ...whole })).toBe(comparisonText(whole));
  });
});
