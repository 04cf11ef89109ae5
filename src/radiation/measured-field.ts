import { DividingNetworkError } from "../errors";
import { resample, type Mark } from "../response";
import { blend, cubicWeights } from "./blend";
import type { MeasuredHalf, MeasuredPlace, MeasuredSet } from "./measured-set";
import { addMarks, sameFrequencies } from "./pressure-field";
import type { FieldScratch } from "./source-field";

/** A measured set made ready for one grid of frequencies. */
export interface MeasuredField {
  /** m, at which it was measured. */
  readonly distance: number;
  /** Adds the pressure at a point in the source's own coordinates (m) to the scratch, and what must be known about it to the marks. */
  add(local: readonly [number, number, number], scratch: FieldScratch, marks: Mark[]): void;
}

const towards = ["+y", "+z (up)", "−y", "−z (down)"];
const betweenPlanes = "Between the measured planes: a blend of the horizontal and vertical measurements at the same angle off the axis";
const borrowedSide = "A side that was not measured: the measurements of another side stand in for it";
const heldSlightly = "Near one measured plane the other was not measured as far: its outermost measurement is held for its small share";
const heldOutside = "Beyond the measured angles: the outermost measurement is held";

/**
 * Prepares a measured set for frequencies.
 *
 * @param caller name of the public function, for messages
 * @param set what was measured
 * @param frequencies Hz
 * @param speed of sound, m/s
 * @returns what adds its pressure, Pa per unit drive
 */
export function measuredField(caller: string, set: MeasuredSet, frequencies: Float64Array, speed: number): MeasuredField {
  const n = frequencies.length;
  const axis = set.halves.find((half) => half !== undefined)!.places[0]!;
  const onGrid = new Map<MeasuredPlace, Delayed>();
  const [buffer, other, result] = [0, 1, 2].map(() => ({ re: new Float64Array(n), im: new Float64Array(n) })) as [Buffer, Buffer, Buffer];

  /** A place's values on the grid without its delay, at the axis's distance from the acoustic centre; the delay beyond that of the path is kept. */
  function at(place: MeasuredPlace, marks: Mark[]): Delayed {
    let ready = onGrid.get(place);
    if (ready === undefined) {
      const response = sameFrequencies(place.response.frequencies, frequencies) ? place.response : resample(place.response, frequencies);
      const [re, im] = [Float64Array.from(response.re), Float64Array.from(response.im)];
      turn(re, im, frequencies, -place.delay, place.path / axis.path);
      onGrid.set(place, (ready = { re, im, delay: place.delay - (place.path - axis.path) / speed }));
    }
    addMarks(marks, place.response.marks);
    return ready;
  }

  /** Along one half plane at an angle off the axis in degrees; of one that counts but slightly nothing, or less, need be known. */
  function along(side: number, angle: number, into: Buffer, marks: Mark[], slight = false): Delayed | undefined {
    const half = set.halves[side];
    if (half === undefined && slight) {
      addMarks(marks, [{ kind: "model", note: heldSlightly }]);
      return undefined;
    }
    if (half === undefined)
      throw outside(caller, `no measurement towards ${towards[side]}`, `a point ${round(angle)}° off the axis on that side`);
    const { places, inner } = half;
    const largest = places[places.length - 1]!;
    if (half.borrowed) addMarks(marks, [{ kind: "model", note: borrowedSide }]);
    if (angle > largest.angle + snap) {
      if (!set.extrapolate && !slight)
        throw outside(caller, `measurements towards ${towards[side]} up to ${largest.angle}°`, `a point ${round(angle)}° off the axis`);
      addMarks(marks, [{ kind: "model", note: slight ? heldSlightly : heldOutside }]);
      return at(largest, marks);
    }
    const i = places.findIndex((place) => place.angle >= angle - snap);
    const [from, to] = [places[i - 1] ?? inner, places[i]!];
    if (from === undefined || Math.abs(to.angle - angle) <= snap) return at(to, marks);
    const [a, b] = [at(from, marks), at(to, marks)];
    checkStep(half, a, b, from.angle, to.angle);
    const before = places[i - 2] ?? (i === 1 ? inner : undefined);
    const beyond = places[i + 1];
    const weights = cubicWeights(before?.angle, from.angle, to.angle, beyond?.angle, angle);
    const parts = [before, from, to, beyond].map((place) => (place === undefined ? undefined : at(place, marks)));
    into.re.fill(0);
    into.im.fill(0);
    let delay = 0;
    parts.forEach((part, p) => {
      const weight = weights[p]!;
      if (part === undefined || weight === 0) return;
      delay += weight * part.delay;
      for (let f = 0; f < n; f++) {
        into.re[f]! += weight * part.re[f]!;
        into.im[f]! += weight * part.im[f]!;
      }
    });
    return { ...into, delay };
  }

  /** Refuses a turn of the phase by more than 90° where neither value is near a null. */
  function checkStep(half: MeasuredHalf, a: Delayed, b: Delayed, from: number, to: number): void {
    for (let f = 0; f < n; f++) {
      const along = a.re[f]! * b.re[f]! + a.im[f]! * b.im[f]!;
      if (along >= 0) continue;
      const low = Math.min(Math.hypot(a.re[f]!, a.im[f]!), Math.hypot(b.re[f]!, b.im[f]!));
      const largest = half.places.reduce((most, place) => Math.max(most, Math.hypot(at(place, []).re[f]!, at(place, []).im[f]!)), 0);
      const across = a.re[f]! * b.im[f]! - a.im[f]! * b.re[f]!;
      if (low > largest * 10 ** (-10 / 20))
        throw tooCoarse(caller, from, to, frequencies[f]!, (Math.abs(Math.atan2(across, along)) * 180) / Math.PI);
    }
  }

  return {
    distance: set.distance,
    add(local, scratch, marks) {
      const {
        r,
        microphone: [x, y, z],
      } = seen(set, local);
      if (r < 1e-9)
        throw new DividingNetworkError(
          "point-on-source",
          `${caller}: a point must not lie on the centre of a measured source`,
          "Move the point away",
        );
      const off = (Math.atan2(Math.hypot(y, z), x) * 180) / Math.PI;
      const around = ((Math.atan2(z, y) * 180) / Math.PI + 360) % 360;
      const side = Math.floor((around + snap) / 90) % 4;
      const beside = around - 90 * Math.floor((around + snap) / 90);
      const share = Math.abs(beside) <= snap || off <= snap || off >= 180 - snap ? 0 : Math.sin((beside * Math.PI) / 180) ** 2;
      let value: Delayed;
      if (off <= snap) value = at(axis, marks);
      else if (share === 0) value = along(off >= 180 - snap ? known180(set) : side, off, buffer, marks)!;
      else {
        const a = along(side, off, buffer, marks, 90 - beside <= set.planeTolerance);
        const b = along((side + 1) % 4, off, other, marks, beside <= set.planeTolerance);
        if (a !== undefined && b !== undefined) {
          blend(a, b, share, result.re, result.im);
          value = { ...result, delay: (1 - share) * a.delay + share * b.delay };
        } else value = (a ?? b)!;
        addMarks(marks, [{ kind: "model", note: betweenPlanes }]);
      }
      const path = set.flight === "included" ? r - axis.path : r - axis.path + set.distance;
      const fall = axis.path / r;
      for (let f = 0; f < n; f++) {
        const angle = 2 * Math.PI * frequencies[f]! * (path / speed + value.delay);
        const c = fall * Math.cos(angle);
        const s = -fall * Math.sin(angle);
        scratch.re[f]! += value.re[f]! * c - value.im[f]! * s;
        scratch.im[f]! += value.re[f]! * s + value.im[f]! * c;
      }
    },
  };
}

/** Complex values over frequency without a delay that belongs to them. */
interface Delayed extends Buffer {
  /** s. */
  readonly delay: number;
}

type Buffer = { readonly re: Float64Array; readonly im: Float64Array };

/** Degrees within which a direction counts as a measured one. */
const snap = 1e-9;

/**
 * How a point lies to the acoustic centre: the distance r from it, m, and the place where a microphone on the measuring sphere sees the
 * acoustic centre from the same side. For an acoustic centre in the middle that is the point's own direction.
 */
function seen(
  { acousticCentre: [cx, cy, cz], distance }: MeasuredSet,
  [x, y, z]: readonly [number, number, number],
): { r: number; microphone: readonly [number, number, number] } {
  const [dx, dy, dz] = [x - cx, y - cy, z - cz];
  const r = Math.hypot(dx, dy, dz);
  const inside = cx * cx + cy * cy + cz * cz;
  if (inside === 0 || r === 0) return { r, microphone: [x, y, z] };
  const along = (cx * dx + cy * dy + cz * dz) / r;
  const t = (Math.sqrt(along * along + distance * distance - inside) - along) / r;
  return { r, microphone: [cx + t * dx, cy + t * dy, cz + t * dz] };
}

/** Delays values in place by s, and scales them. */
function turn(re: Float64Array, im: Float64Array, frequencies: Float64Array, delay: number, size: number): void {
  if (delay === 0 && size === 1) return;
  for (let f = 0; f < re.length; f++) {
    const angle = -2 * Math.PI * frequencies[f]! * delay;
    const c = size * Math.cos(angle);
    const s = size * Math.sin(angle);
    const x = re[f]!;
    const y = im[f]!;
    re[f] = x * c - y * s;
    im[f] = x * s + y * c;
  }
}

function round(angle: number): number {
  return Math.round(angle * 1e3) / 1e3;
}

/** Straight behind all half planes meet: the first that was measured so far decides. */
function known180({ halves }: MeasuredSet): number {
  const measured = halves.findIndex((half) => half !== undefined && !half.borrowed && half.places[half.places.length - 1]!.angle === 180);
  return measured >= 0
    ? measured
    : Math.max(
        0,
        halves.findIndex((half) => half !== undefined),
      );
}

function outside(caller: string, have: string, got: string): DividingNetworkError {
  return new DividingNetworkError(
    "outside-measured-range",
    `${caller}: the points must lie where the source was measured (${have}), got ${got}`,
    "Measure there, or give measuredSource the option extrapolate: true or a symmetry",
  );
}

function tooCoarse(caller: string, from: number, to: number, frequency: number, degrees: number): DividingNetworkError {
  return new DividingNetworkError(
    "angle-step",
    `${caller}: the phase must turn by at most 90° between measured angles (a bulk delay removed, nulls excepted), got ${Math.round(degrees)}° from ${from}° to ${to}° at ${Math.round(frequency)} Hz`,
    "Measure at closer angles, or state each measurement's delay",
  );
}
