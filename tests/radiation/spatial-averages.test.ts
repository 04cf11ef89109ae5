// Tests src/radiation/: rule-points.ts
// Spatial averages of patterns whose mean squares are known. An arc of N equal steps h holds of a harmonic cos mθ its value in the middle times
// sin(Nmh/2)/(N sin(mh/2)) (Dirichlet's kernel), and the integral over the arc, half a step beyond its ends, that times sin(mh/2)/(mh/2): closed forms,
// summed nowhere. The sound power is compared with the integral over the sphere.
import { dipoleSource, pointSource, polarMap, spatialAverages, type SpatialAverages } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";
import { mapOf, steps } from "../support/map-of";

const rad = Math.PI / 180;
const energy = ({ levelDb }: { levelDb: Float64Array }): number => 10 ** (levelDb[0]! / 10);
/** A mean square over angle: its constant, and its harmonics of the cosine and the sine. */
interface Pattern {
  readonly constant: number;
  readonly cos: readonly number[];
  readonly sin: readonly number[];
}
const square = ({ constant, cos, sin }: Pattern, angle: number): number =>
  cos.reduce((sum, a, i) => sum + a * Math.cos((i + 1) * angle * rad), constant)
  + sin.reduce((sum, b, i) => sum + b * Math.sin((i + 1) * angle * rad), 0);
/** The mean over an arc of N steps of 10° around a middle: of the places, or of the whole arc to half a step beyond its ends. */
function arc({ constant, cos, sin }: Pattern, from: number, to: number, kind: "places" | "integral"): number {
  const n = (to - from) / 10 + 1;
  const middle = ((from + to) / 2) * rad;
  const kernel = (m: number): number => Math.sin(n * m * 5 * rad) / (n * (kind === "places" ? Math.sin(m * 5 * rad) : m * 5 * rad));
  return (
    cos.reduce((sum, a, i) => sum + a * kernel(i + 1) * Math.cos((i + 1) * middle), constant)
    + sin.reduce((sum, b, i) => sum + b * kernel(i + 1) * Math.sin((i + 1) * middle), 0)
  );
}

// Cosines and sines of three harmonics, never negative, and equal on the axis, before and behind, as they must be: both planes hold it.
const horizontal: Pattern = { constant: 1, cos: [0.5, 0.2, -0.05], sin: [0.11, -0.07, 0.03] };
const vertical: Pattern = { constant: 0.9, cos: [0.42, 0.3, 0.03], sin: [-0.13, 0.09, 0.05] };
const averagesOf = (across: Pattern, upright: Pattern, options = {}): SpatialAverages =>
  spatialAverages(
    {
      horizontal: mapOf("horizontal", steps(-180, 180, 10), [1000], (angle) => Math.sqrt(square(across, angle))),
      vertical: mapOf("vertical", steps(-180, 180, 10), [1000], (angle) => Math.sqrt(square(upright, angle))),
    },
    options,
  );

describe.each(["places", "integral"] as const)("each zone holds what its arc does: by its %s", (kind) => {
  const averages = averagesOf(horizontal, vertical);
  // Places and integral differ by (mh/2)/sin(mh/2) in the m-th harmonic: by 0.13, 0.51 and 1.15 per cent of it.
  const limit = [horizontal, vertical].map(({ cos, sin }) =>
    [0.0013, 0.0051, 0.0115].reduce((sum, share, i) => sum + share * Math.hypot(cos[i]!, sin[i]!), 0),
  );
  const close = (got: number, wanted: number): void =>
    expect(Math.abs(got - wanted)).toBeLessThan(kind === "places" ? 1e-12 : Math.max(...limit));
  const [h, v] = [
    (from: number, to: number) => arc(horizontal, from, to, kind),
    (from: number, to: number) => arc(vertical, from, to, kind),
  ];

  it("floor and ceiling are the vertical arcs around −30° and 50°", () => {
    close(energy(averages.floorBounce), v(-40, -20));
    close(energy(averages.ceilingBounce), v(40, 60));
  });

  it("front, sides and rear are the horizontal arcs of ±35°, 35° to 85° on both sides, and beyond 85°", () => {
    close(energy(averages.frontWallBounce), h(-30, 30));
    close(energy(averages.sideWallBounce), (h(40, 80) + h(-80, -40)) / 2);
    close(energy(averages.rearWallBounce), h(90, 270));
  });

  it("the listening window is seven parts of the front arc and two of ±10° in height", () => {
    const beside = (square(vertical, 10) + square(vertical, -10)) / 2;
    close(energy(averages.listeningWindow), (7 * h(-30, 30) + 2 * beside) / 9);
    expect(energy(averages.onAxis)).toBeCloseTo(square(horizontal, 0), 12);
  });

  it("early reflections are a fifth of each bounce, or the mean of their 42 angles", () => {
    const bounces = [
      [v(-40, -20), 3],
      [v(40, 60), 3],
      [h(-30, 30), 7],
      [(h(40, 80) + h(-80, -40)) / 2, 10],
      [h(90, 270), 19],
    ] as const;
    close(
      energy(averages.earlyReflections),
      bounces.reduce((sum, [bounce]) => sum + bounce / 5, 0),
    );
    const angles = averagesOf(horizontal, vertical, { earlyReflections: "mean-of-angles" });
    close(
      energy(angles.earlyReflections),
      bounces.reduce((sum, [bounce, n]) => sum + (bounce * n) / 42, 0),
    );
    expect(angles.readings[1]).toMatch(/all angles/);
    const three = averagesOf(horizontal, vertical, { rearWall: "three-angles" });
    expect(energy(three.rearWallBounce)).toBeCloseTo(
      [90, -90, 180].reduce((sum, angle) => sum + square(horizontal, angle) / 3, 0),
      12,
    );
    expect([averages.readings[0], three.readings[0]]).toEqual([
      expect.stringMatching(/all steps/),
      expect.stringMatching(/−90°, 90° and 180°/),
    ]);
  });
});

describe("the sound power by the recalled weights, against the integral over the sphere", () => {
  type Both = (angle: number) => number;
  const power = (across: Both, upright: Both): number =>
    energy(
      spatialAverages({
        horizontal: mapOf("horizontal", steps(-180, 180, 10), [1000], (angle) => across(angle * rad)),
        vertical: mapOf("vertical", steps(-180, 180, 10), [1000], (angle) => upright(angle * rad)),
      }).soundPower,
    );
  const front =
    (n: number): Both =>
    (angle) =>
      Math.max(0, Math.cos(angle)) ** n;
  // Mean squares over the sphere: 1/3 of cos θ and of (1 + cos θ)/2; 1/(2n + 1) of cosⁿ θ all around and half of that in front only.
  it.each<[name: string, error: number, across: Both, upright: Both, exact: number]>([
    ["a monopole", 1e-9, () => 1, () => 1, 1],
    ["a cardioid", 0.1, (t) => (1 + Math.cos(t)) / 2, (t) => (1 + Math.cos(t)) / 2, 1 / 3],
    ["a cardioid to the side", -0.05, (t) => (1 + Math.sin(t)) / 2, () => 0.5, 1 / 3],
    ["a dipole", 0.36, Math.cos, Math.cos, 1 / 3],
    ["a dipole to the side", -0.19, Math.sin, () => 0, 1 / 3],
    ["a dipole upwards", -0.19, () => 0, Math.sin, 1 / 3],
    ["cos⁴ in front", 0.65, front(4), front(4), 1 / 18],
    ["cos⁸ in front", 0.72, front(8), front(8), 1 / 34],
  ])("of %s errs by up to %d dB: too much near the axis, too little beside it", (_name, error, across, upright, exact) => {
    const miss = 10 * Math.log10(power(across, upright) / exact);
    expect(miss * Math.sign(error)).toBeGreaterThan(error === 1e-9 ? -1e-9 : 0);
    expect(Math.abs(miss)).toBeLessThan(Math.abs(error));
  });

  it("takes each of the 70 places once, front and rear, sides and height alike", () => {
    // A pattern that is 1 at one angle of a plane and next to nothing elsewhere (an index over silence is refused): its share is the weight of that place, which its mirror images have too.
    const hush = 1e-9;
    const share = (plane: "horizontal" | "vertical", at: number): number =>
      power(
        (t) => (plane === "horizontal" && Math.abs(t / rad - at) < 1 ? 1 : hush),
        (t) => (plane === "vertical" && Math.abs(t / rad - at) < 1 ? 1 : hush),
      );
    let sum =
      power(
        (t) => (t === 0 ? 1 : hush),
        (t) => (t === 0 ? 1 : hush),
      )
      + power(
        (t) => (Math.abs(t) > 3.14 ? 1 : hush),
        () => hush,
      );
    for (const angle of steps(10, 170, 10)) {
      const shares = [
        share("horizontal", angle),
        share("horizontal", -angle),
        share("vertical", angle),
        share("vertical", -angle),
        share("horizontal", 180 - angle),
      ];
      for (const one of shares) expect(one).toBeCloseTo(shares[0]!, 12);
      sum += 4 * shares[0]!;
    }
    expect(sum).toBeCloseTo(1, 12);
    for (const axis of [0, 180, -180]) expect(share("vertical", axis)).toBeLessThan(1e-15);
  });

  it("gives the indices and the in-room estimate of a dipole as they follow from its figure of eight", () => {
    // p² = 4 sin²(kD/2 cos θ), which tends to (kD)² (1 + cos 2θ)/2 at low frequency.
    const [path, frequency, speedOfSound, distance] = [0.01, 343 / (2 * Math.PI), 343, 1e4];
    const maps = (plane: "horizontal" | "vertical") =>
      polarMap([dipoleSource(pointSource(), { path })], [frequency], { plane, distance, air: { speedOfSound } });
    const averages = spatialAverages({ horizontal: maps("horizontal"), vertical: maps("vertical") }, { reference: path / distance });
    const eight: Pattern = { constant: 0.5, cos: [0, 0.5], sin: [] };
    const zone = (from: number, to: number): number => arc(eight, from, to, "places");
    const window = (7 * zone(-30, 30) + 2 * square(eight, 10)) / 9;
    const early = (zone(-40, -20) + zone(40, 60) + zone(-30, 30) + zone(40, 80) + zone(90, 270)) / 5;
    expect(averages.onAxis.levelDb[0]).toBeCloseTo(0, 3);
    expect(averages.listeningWindow.levelDb[0]).toBeCloseTo(10 * Math.log10(window), 3);
    expect(averages.earlyReflectionsDirectivityIndex.levelDb[0]).toBeCloseTo(10 * Math.log10(window / early), 3);
    // Against the sphere's third the weights err by up to 0.36 dB.
    expect(Math.abs(averages.soundPowerDirectivityIndex.levelDb[0]! - 10 * Math.log10(3 * window))).toBeLessThan(0.36);
    const room = 0.12 * window + 0.44 * early + 0.44 * energy(averages.soundPower);
    expect(averages.predictedInRoom.levelDb[0]).toBeCloseTo(10 * Math.log10(room), 3);
    expect(Math.abs(averages.predictedInRoom.levelDb[0]! - 10 * Math.log10(0.12 * window + 0.44 * early + 0.44 / 3))).toBeLessThan(0.2);
  });
});

describe("maps of other steps", () => {
  it("are interpolated in level, up to the seam at ±180°", () => {
    const fall = (angle: number): number => 10 ** (-Math.abs(angle) / 200);
    const averages = (angles: readonly number[]): SpatialAverages =>
      spatialAverages({ horizontal: mapOf("horizontal", angles, [1000], fall), vertical: mapOf("vertical", angles, [1000], fall) });
    const fine = averages(steps(-180, 180, 10));
    // A level that falls by a straight line is the same from any steps that hold 0° and 180°.
    for (const angles of [
      steps(-180, 180, 15),
      steps(-180, 180, 7.5),
      steps(-180, 180, 30),
      steps(-180, 165, 15),
      steps(-165, 180, 15),
      [-180, -77, 0, 13, 112, 180],
    ]) {
      for (const key of ["onAxis", "listeningWindow", "earlyReflections", "rearWallBounce", "soundPower", "predictedInRoom"] as const) {
        expect(averages(angles)[key].levelDb[0]).toBeCloseTo(fine[key].levelDb[0]!, 10);
      }
    }
  });

  it("are refused where they do not go around, whatever one end of them reaches", () => {
    const around = mapOf("vertical", steps(-180, 180, 10), [1000], () => 1);
    for (const angles of [steps(0, 180, 10), steps(-180, 0, 10), [180], [90, 180], steps(-170, 170, 10), steps(-90, 90, 10)]) {
      expect(() => spatialAverages({ horizontal: mapOf("horizontal", angles, [1000], () => 1), vertical: around })).toThrow(
        expect.objectContaining({ code: "missing-angle" }) as Error,
      );
    }
  });

  it("are refused by name, with what is wrong", () => {
    const maps = {
      horizontal: mapOf("horizontal", steps(-180, 180, 10), [1000], () => 2),
      vertical: mapOf("vertical", steps(-180, 180, 10), [1000], () => 2),
    };
    for (const wrong of [{ reference: 0 }, { reference: 1e101 }, { rearWall: "x" }, { earlyReflections: "x" }]) {
      expect(() => spatialAverages(maps, wrong as never)).toThrow(new RegExp(`^spatialAverages: "${Object.keys(wrong)[0]!}" must be`));
    }
    expect(spatialAverages(maps, { reference: 2 }).soundPower.levelDb[0]).toBeCloseTo(0, 12);
    expect(spatialAverages(maps).readings).toEqual([
      expect.stringMatching(/^rear wall/),
      expect.stringMatching(/five bounces, each counting once$/),
      expect.stringMatching(/^sound power: 70 points/),
    ]);
  });
});
