#!/usr/bin/env node
// The findings of the example "desk monitor", derived from its text files by plain arithmetic: a second route that shares
// no line with the library and none with the program that wrote the data. Own reader, own ladders, own sums.
//   node tests/demo/plain-arithmetic.mjs        prints the numbers as JSON
//   import { plainArithmetic } from "./plain-arithmetic.mjs"
//
// Definitions (levels in dB re 20 µPa, 2.83 V is the amplifier's open-circuit voltage):
// - points: the files' own frequencies, 48 an octave through 1 kHz. No interpolation, no smoothing, anywhere below
//   except where the text says "between points".
// - branch: measured pressure of one driver (at 2.83 V on its terminals) times V(driver)/V(open circuit) from the ladder.
// - sum: the complex sum of the two branches at the same angle.
// - assessment points: every second point (1/24 octave, through 1 kHz) with 300 Hz <= f <= 10 kHz.
// - crossover: where both branches have one level on the axis, 1 m; between points linear in log2 f. "main" is the one
//   inside the widest stretch of overlap.
// - overlap: stretches on the axis where the branch levels differ by 10 dB or less; the ends lie between points, linear in
//   log2 f; its width is log2(to/from) octaves. Searched from the gate's limit to 20 kHz.
// - acoustic slope: fall of a branch's level over the first octave beyond the crossover (woofer fc to 2 fc, tweeter fc to
//   fc/2), between points linear in log2 f. A fourth-order in-phase pair falls 20 log10(17/2) = 18.6 dB there.
// - fitted slope: least squares of a branch's level against log2 f over the octave that starts half an octave beyond the
//   crossover (woofer fc√2 to 2 fc√2, tweeter fc/(2√2) to fc/√2), on 25 places 1/24 octave apart, level between points
//   linear in log2 f.
// - branch phase difference: arg(tweeter branch / woofer branch) on the axis at the point nearest to fc/√2, fc and fc√2.
//   Its rms over the widest overlap: over the 1/24-octave points inside and the crossover itself, where it is linear between
//   points.
// - reversed null: the branches' level difference d (dB) and phase difference φ, both linear between points, give the ratio
//   q = 10^(d/20) at φ; the null is the largest 20 log10 |1 + q| / |1 - q| on the places 1/96 octave apart (through 1 kHz) within half an
//   octave of the crossover.
// - line: least squares of level against log2 f over the assessment points; deviation = level minus line; standard
//   deviation with divisor n; worst = largest absolute deviation.
// - sensitivity: 10 log10 of the mean of |p|² over log f from 300 Hz to 3 kHz (an integral, |p|² straight between points), on the axis at 1 m,
//   for 2.83 V; for 1 W into the rated impedance it is lower by 10 log10(2.83²/rated).
// - octave band: the same integral from centre/√2 to centre √2; its change is against the same band on
//   the axis. Bands at 0.5, 1, 2, 4 and 8 kHz, and one at the main crossover of the proposed network (for both networks).
// - side difference: level at +angle minus level at -angle at one 1/24-octave point, the largest by absolute value within
//   an octave either side of the middle of the judged band (one region for both networks).
// - around the crossover: the change of three octave bands, at half, once and twice the middle of the judged band.
// - change of shape from 1 to 2 m: standard deviation (divisor n) of the difference of the two levels over the 1/24-octave
//   points of the assessment band; its mean is given as well.
// - impedance: at the terminals, without amplifier and cable, from the drivers' measured impedances; the smallest
//   magnitude over the points from 20 Hz to 20 kHz. Octaves below 80 % of the rated impedance: |Z| straight between
//   neighbouring points. Share of a branch in the current there: the part of its current in phase with the whole.
// - tweeter drive: 20 log10 |V(tweeter)/V(open circuit)| at the points 500 Hz and 1 kHz. At equal system level: the
//   proposed network's drive plus (sensitivity as found - sensitivity proposed), so that both play equally loud. The mean is
//   that of the levels at the 1/24-octave points over the two octaves below the proposed network's main crossover.
// - check as found: sum of the branches against the whole loudspeaker as measured, at every angle and distance there is:
//   rms of |sum - whole| over rms of |whole| at the assessment points; for the impedance the largest |difference| / |Z|.
//   Over the 1/24-octave points above the gate's limit, all angles and distances together: rms of the difference of levels,
//   and the angle whose tangent is rms |sum - whole| over rms |whole|. For the impedance the rms of |difference| over the
//   1/24-octave points from 20 Hz to 20 kHz. What the model misses of a number: its own less the same one taken from the
//   whole loudspeaker as measured, on the axis at 1 m.
import { readFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";

const folder = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
const VOLTAGE = 2.83;
const P0 = 20e-6;

// ---------------------------------------------------------------- complex numbers as [re, im]
const add = (a, b) => [a[0] + b[0], a[1] + b[1]];
const less = (a, b) => [a[0] - b[0], a[1] - b[1]];
const times = (a, b) => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
const over = (a, b) => {
  const d = b[0] * b[0] + b[1] * b[1];
  return [(a[0] * b[0] + a[1] * b[1]) / d, (a[1] * b[0] - a[0] * b[1]) / d];
};
const side = (a, b) => over(times(a, b), add(a, b)); // two impedances in parallel
const size = (a) => Math.sqrt(a[0] * a[0] + a[1] * a[1]);
const fromPolar = (magnitude, degrees) => [
  magnitude * Math.cos((degrees * Math.PI) / 180),
  magnitude * Math.sin((degrees * Math.PI) / 180),
];
const level = (p) => 20 * Math.log10(size(p) / P0);

// ---------------------------------------------------------------- reading
/** Rows of three numbers, whatever the separator; a comma inside a number is a decimal comma. */
function rowsOf(file) {
  const rows = [];
  for (const line of readFileSync(folder + file, "utf8").split("\n")) {
    if (!/^[-+0-9]/.test(line)) continue;
    const cells = line.split(/[\t; ]+/).map((cell) => Number(cell.replace(",", ".")));
    if (cells.length !== 3 || !cells.every(Number.isFinite)) throw new Error(`${file}: cannot read "${line}"`);
    rows.push(cells);
  }
  if (rows.length < 100) throw new Error(`${file}: only ${rows.length} rows`);
  return rows;
}

/** A map from the point's number (48 an octave, 0 at 1 kHz) to a complex value. */
function read(file, columns) {
  const values = new Map();
  for (const [f, a, b] of rowsOf(file)) {
    const k = Math.round(48 * Math.log2(f / 1000));
    if (Math.abs((1000 * 2 ** (k / 48)) / f - 1) > 1e-6) throw new Error(`${file}: ${f} Hz is not on the grid`);
    values.set(k, columns === "re-im" ? [a, b] : columns === "ohm-degrees" ? fromPolar(a, b) : fromPolar(P0 * 10 ** (a / 20), b));
  }
  return values;
}

const hertz = (k) => 1000 * 2 ** (k / 48);
const units = { Ω: 1, mH: 1e-3, µH: 1e-6, µF: 1e-6, ms: 1e-3 };
function si(text) {
  const match = /^([0-9.]+) (\S+)$/.exec(text);
  if (match === null || units[match[2]] === undefined) throw new Error(`cannot read the quantity "${text}"`);
  return Number(match[1]) * units[match[2]];
}

// ---------------------------------------------------------------- the two ladders
/** Impedance of a listed part at w, after checking that it sits between the nodes this ladder supposes. */
function part(parts, name, nodes, w) {
  const found = parts.find((candidate) => candidate.name === name);
  if (found === undefined || found.nodes.join() !== nodes) throw new Error(`${name} should sit between ${nodes}`);
  if (found.kind === "resistor") return [si(found.resistance), 0];
  if (found.kind === "inductor") return [si(found.dcr), w * si(found.inductance)];
  // A loss that is a share of the reactance, or a resistance.
  if (found.kind === "capacitor") {
    const reactance = 1 / (w * si(found.capacitance));
    return [found.dissipationFactor === undefined ? si(found.esr) : found.dissipationFactor * reactance, -reactance];
  }
  throw new Error(`${name}: a ${found.kind} is not expected here`);
}

function checkDrivers(parts, count, tweeterNodes) {
  const wired = (name, nodes) => parts.some((p) => p.name === name && p.kind === "driver" && p.nodes.join() === nodes);
  if (parts.length !== count || !wired("woofer", "w,gnd") || !wired("tweeter", tweeterNodes))
    throw new Error("the network is not the one this file calculates");
}

/** L1 in series with the woofer, C1 with the reversed tweeter. Gives each driver's V(+ to -) per volt at the terminals, the input impedance, and that of the woofer's branch. */
function ladderFound(parts, w, woofer, tweeter) {
  checkDrivers(parts, 4, "gnd,t"); // the tweeter's + is at gnd
  const low = add(part(parts, "L1", "in,w", w), woofer);
  const high = add(part(parts, "C1", "in,t", w), tweeter);
  return { woofer: over(woofer, low), tweeter: times([-1, 0], over(tweeter, high)), input: side(low, high), low };
}

/** Woofer: L1, C1 across, then L2. Tweeter: R1, C2, then L3 across. */
function ladderProposed(parts, w, woofer, tweeter) {
  checkDrivers(parts, 8, "t,gnd");
  const z = (name, nodes) => part(parts, name, nodes, w);
  const behind = add(z("L2", "m,w"), woofer);
  const loaded = side(z("C1", "m,gnd"), behind);
  const low = add(z("L1", "in,m"), loaded);
  const last = side(z("L3", "t,gnd"), tweeter);
  const high = add(add(z("R1", "in,a"), z("C2", "a,t")), last);
  return { woofer: times(over(loaded, low), over(woofer, behind)), tweeter: over(last, high), input: side(low, high), low };
}

// ---------------------------------------------------------------- small helpers on lists of points
const range = (map, low, high, step = 1) =>
  [...map.keys()].filter((k) => k % step === 0 && hertz(k) >= low && hertz(k) <= high).sort((a, b) => a - b);
const mean = (list) => list.reduce((sum, value) => sum + value, 0) / list.length;
/** dB: the mean of |p|² over log2 f between two frequencies, |p|² straight between the points. */
function bandLevel(map, low, high) {
  const at = (f) => 48 * Math.log2(f / 1000);
  const known = [...map.keys()].sort((a, b) => a - b);
  const [from, to] = [Math.max(at(low), known[0]), Math.min(at(high), known.at(-1))];
  const power = new Map(known.map((k) => [k, (size(map.get(k)) / P0) ** 2]));
  const value = (x) => (Number.isInteger(x) ? power.get(x) : between(power, x));
  const places = [from, ...known.filter((k) => k > from && k < to), to];
  let area = 0;
  for (let i = 1; i < places.length; i++) area += ((places[i] - places[i - 1]) * (value(places[i]) + value(places[i - 1]))) / 2;
  return 10 * Math.log10(area / (to - from));
}
const round = (value, digits) => Number(value.toFixed(digits));
const octaveLevel = (map, centre) => bandLevel(map, centre / Math.SQRT2, centre * Math.SQRT2);
const angle = ([re, im]) => (Math.atan2(im, re) * 180) / Math.PI;
/** The straight line through points by least squares: its slope. */
const slopeOf = (x, y) => mean(x.map((value, i) => (value - mean(x)) * (y[i] - mean(y)))) / mean(x.map((value) => (value - mean(x)) ** 2));
const deviationOf = (list) => Math.sqrt(mean(list.map((value) => (value - mean(list)) ** 2)));
/** The numbers of a response over the assessment band (ks) and the sensitivity band. */
function lineOf(values, ks) {
  const [x, y] = [ks.map((k) => k / 48), ks.map((k) => level(values.get(k)))];
  const slope = slopeOf(x, y);
  const deviation = y.map((value, i) => value - mean(y) - slope * (x[i] - mean(x)));
  const worst = deviation.reduce((best, value, i) => (Math.abs(value) > Math.abs(deviation[best]) ? i : best), 0);
  return {
    slope,
    worstDb: deviation[worst],
    worstFrequency: hertz(ks[worst]),
    standardDeviationDb: Math.sqrt(mean(deviation.map((value) => value * value))),
    rangeDb: Math.max(...y) - Math.min(...y),
  };
}
/** The part of a straight line from a to b that lies below a limit. */
const partBelow = (a, b, limit) => (a < limit && b < limit ? 1 : a >= limit && b >= limit ? 0 : (limit - Math.min(a, b)) / Math.abs(a - b));
/** Where a straight line from (k, a) to (k + 1, b) passes zero, as a fractional point number. */
const zero = (k, a, b) => k + a / (a - b);
const between = (values, position) => {
  const k = Math.floor(position);
  return values.get(k) + (position - k) * (values.get(k + 1) - values.get(k));
};

/** All numbers, as a plain object. */
export function plainArithmetic() {
  const project = JSON.parse(readFileSync(`${folder}project.json`, "utf8"));
  const { amplifier, ratedImpedance: rated } = project;
  const impedance = {};
  for (const driver of project.drivers) impedance[driver.name] = read(driver.impedance.file, driver.impedance.columns);

  /** pressure[of][distance]["azimuth,elevation"] */
  const pressure = {};
  let measuredImpedance;
  for (const m of project.measurements) {
    if (m.quantity === "impedance") {
      measuredImpedance = read(m.files[0].file, m.columns);
      continue;
    }
    const expected = m.of === "loudspeaker" ? "input" : "terminals";
    if (m.drive.voltage !== VOLTAGE || m.drive.at !== expected) throw new Error(`${m.of}: unexpected drive`);
    const angles = ((pressure[m.of] ??= {})[m.distance] ??= {});
    for (const file of m.files) angles[`${file.azimuth},${file.elevation}`] = read(file.file, m.columns);
  }

  const source = (w) => [si(amplifier.outputResistance) + si(amplifier.cableResistance), w * si(amplifier.cableInductance)];
  const networks = { found: ladderFound, proposed: ladderProposed };
  const drive = {}; // V(driver) / V(open circuit), and the input impedance, by point
  for (const [name, ladder] of Object.entries(networks)) {
    drive[name] = { woofer: new Map(), tweeter: new Map(), input: new Map(), share: new Map() };
    for (const k of impedance.woofer.keys()) {
      const w = 2 * Math.PI * hertz(k);
      const solved = ladder(project.networks[name].parts, w, impedance.woofer.get(k), impedance.tweeter.get(k));
      const terminals = over(solved.input, add(solved.input, source(w)));
      drive[name].input.set(k, solved.input);
      drive[name].share.set(k, over(solved.input, solved.low)[0]); // woofer's branch: Re(I/I of all)
      for (const driver of ["woofer", "tweeter"]) drive[name][driver].set(k, times(terminals, solved[driver]));
    }
  }
  const branch = (name, driver, distance, direction) => {
    const values = new Map();
    for (const [k, p] of pressure[driver][distance][direction]) values.set(k, times(p, drive[name][driver].get(k)));
    return values;
  };
  const total = (name, distance, direction) => {
    const low = branch(name, "woofer", distance, direction);
    const high = branch(name, "tweeter", distance, direction);
    return new Map([...low].map(([k, p]) => [k, add(p, high.get(k))]));
  };

  const result = { definitions: "see the head of tests/demo/plain-arithmetic.mjs" };
  const { from, to } = project.goal.band;

  // First what stands on the axis at 1 m.
  for (const name of Object.keys(networks)) {
    const low = branch(name, "woofer", 1, "0,0");
    const high = branch(name, "tweeter", 1, "0,0");
    const sum = total(name, 1, "0,0");
    const ks = range(sum, 0, 20000);
    const lowLevel = new Map(ks.map((k) => [k, level(low.get(k))]));
    const highLevel = new Map(ks.map((k) => [k, level(high.get(k))]));
    const difference = new Map(ks.map((k) => [k, lowLevel.get(k) - highLevel.get(k)]));

    const crossings = [];
    const overlaps = [];
    let start;
    ks.forEach((k, i) => {
      const here = difference.get(k);
      const next = difference.get(ks[i + 1] ?? k);
      if (i + 1 < ks.length && here > 0 !== next > 0) crossings.push(zero(k, here, next));
      if (i === 0 && Math.abs(here) <= 10) start = k;
      if (Math.abs(here) > 10 && Math.abs(next) <= 10) start = zero(k, Math.abs(here) - 10, Math.abs(next) - 10);
      const ends = Math.abs(here) <= 10 && (Math.abs(next) > 10 || i + 1 === ks.length);
      if (ends) overlaps.push({ from: start, to: i + 1 === ks.length ? k : zero(k, Math.abs(here) - 10, Math.abs(next) - 10) });
    });
    overlaps.sort((a, b) => b.to - b.from - (a.to - a.from));
    const main = crossings.filter((c) => c >= overlaps[0].from && c <= overlaps[0].to).at(-1);
    const nearest = (offset) => Math.round(main + offset);
    const phase = (k) => angle(over(high.get(k), low.get(k)));
    const phases = new Map(ks.map((k) => [k, phase(k)]));
    const fitted = (values, start) => {
      const places = Array.from({ length: 25 }, (_, i) => start + 2 * i);
      return round(
        slopeOf(
          places.map((place) => place / 48),
          places.map((place) => between(values, place)),
        ),
        3,
      );
    };
    const inside = [...range(sum, hertz(overlaps[0].from), hertz(overlaps[0].to), 2).map((k) => phases.get(k)), between(phases, main)];
    const nulls = Array.from({ length: 97 }, (_, i) => Math.ceil(2 * (main - 24)) / 2 + i / 2)
      .filter((place) => place <= main + 24)
      .map((place) => {
        const q = fromPolar(10 ** (-between(difference, place) / 20), between(phases, place));
        return { place, depth: 20 * Math.log10(size(add([1, 0], q)) / size(less([1, 0], q))) };
      });
    const deepest = nulls.reduce((best, one) => (one.depth > best.depth ? one : best));
    const line = lineOf(sum, range(sum, from, to, 2));

    const audible = range(drive[name].input, 20, 20000);
    const lowest = audible.reduce((best, k) => (size(drive[name].input.get(k)) < size(drive[name].input.get(best)) ? k : best), audible[0]);
    const most = (sign) =>
      audible.reduce(
        (best, k) => (sign * angle(drive[name].input.get(k)) > sign * angle(drive[name].input.get(best)) ? k : best),
        audible[0],
      );
    const below = audible.filter((k) => size(drive[name].input.get(k)) < 0.8 * rated);
    const driveDb = (k) => round(20 * Math.log10(size(drive[name].tweeter.get(k))), 3);
    const sensitivity = bandLevel(sum, 300, 3000);

    result[name] = {
      onAxis: [306, 500, 700, 1000, 1400, 1800, 2000, 2800, 4000, 5700, 8000].map((f) => {
        const k = 2 * Math.round(24 * Math.log2(f / 1000));
        const [sumDb, wooferDb, tweeterDb] = [level(sum.get(k)), lowLevel.get(k), highLevel.get(k)].map((value) => round(value, 2));
        return { frequency: round(hertz(k), 2), sumDb, wooferDb, tweeterDb };
      }),
      crossoverFrequencies: crossings.map((k) => round(hertz(k), 1)),
      mainCrossover: round(hertz(main), 1),
      centreDistanceInWavelengths: 0, // filled in below
      overlaps: overlaps.map((o) => ({
        from: round(hertz(o.from), 1),
        to: round(hertz(o.to), 1),
        octaves: round((o.to - o.from) / 48, 3),
      })),
      acousticSlopeDb: {
        woofer: round(between(lowLevel, main) - between(lowLevel, main + 48), 2),
        tweeter: round(between(highLevel, main) - between(highLevel, main - 48), 2),
      },
      fittedSlopeDbPerOctave: { woofer: fitted(lowLevel, main + 24), tweeter: fitted(highLevel, main - 72) },
      phaseRmsDegrees: round(Math.sqrt(mean(inside.map((value) => value * value))), 2),
      reversedNull: { depthDb: round(deepest.depth, 2), frequency: round(hertz(deepest.place), 1) },
      branchPhaseDifference: [-24, 0, 24].map((offset) => ({
        frequency: round(hertz(nearest(offset)), 1),
        degrees: round(phase(nearest(offset)), 1),
      })),
      line: {
        slopeDbPerOctave: round(line.slope, 3),
        standardDeviationDb: round(line.standardDeviationDb, 3),
        worstDb: round(line.worstDb, 3),
        worstFrequency: round(line.worstFrequency, 1),
        rangeDb: round(line.rangeDb, 3),
      },
      sensitivity: { for2V83Db: round(sensitivity, 3), for1WDb: round(sensitivity - 10 * Math.log10(VOLTAGE ** 2 / rated), 3) },
      impedance: {
        minimum: round(size(drive[name].input.get(lowest)), 3),
        frequency: round(hertz(lowest), 1),
        partOfRated: round(size(drive[name].input.get(lowest)) / rated, 3),
        pointsBelow80PercentOfRated: below.length,
        below80PercentFrom: below.length === 0 ? null : round(hertz(below[0]), 1),
        below80PercentOctaves: round(
          audible
            .slice(1)
            .reduce(
              (octaves, k, i) =>
                octaves + partBelow(size(drive[name].input.get(audible[i])), size(drive[name].input.get(k)), 0.8 * rated) / 48,
              0,
            ),
          3,
        ),
        wooferShare: round(drive[name].share.get(lowest), 4),
        lowestPhaseDegrees: { degrees: round(angle(drive[name].input.get(most(-1))), 2), frequency: round(hertz(most(-1)), 1) },
        highestPhaseDegrees: { degrees: round(angle(drive[name].input.get(most(1))), 2), frequency: round(hertz(most(1)), 1) },
        below80PercentTo: below.length === 0 ? null : round(hertz(below.at(-1)), 1),
      },
      tweeterDriveDb: { at500: driveDb(-48), at1000: driveDb(0) },
    };
  }

  // Then what needs both networks or other angles.
  const c = 343.2 * Math.sqrt((project.air.temperature + 273.15) / 293.15);
  const [a, b] = project.drivers.map((driver) => driver.position);
  const spacing = Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
  // The middle of the judged band, 300 Hz to 10 kHz: one region for both networks.
  const centre = Math.sqrt(300 * 10_000);
  for (const name of Object.keys(networks)) {
    const axis = total(name, 1, "0,0");
    result[name].centreDistanceInWavelengths = round((spacing * result[name].mainCrossover) / c, 3);
    result[name].offAxis = {};
    for (const angle of [10, -10, 20, -20, 30, -30]) {
      const there = total(name, 1, `${angle},0`);
      const change = (f) => round(octaveLevel(there, f) - octaveLevel(axis, f), 3);
      result[name].offAxis[angle > 0 ? `+${angle}` : `${angle}`] = {
        ...Object.fromEntries([500, 1000, 2000, 4000, 8000].map((f) => [`octave${f}Db`, change(f)])),
        octaveAtCrossoverDb: change(centre),
      };
    }
    result[name].aroundCrossover = {};
    for (const direction of ["10,0", "-10,0", "20,0", "-20,0", "30,0", "-30,0", "0,10", "0,-10", "0,20", "0,-20"]) {
      const there = total(name, 1, direction);
      result[name].aroundCrossover[direction] = [centre / 2, centre, centre * 2].map((f) =>
        round(octaveLevel(there, f) - octaveLevel(axis, f), 3),
      );
    }
    result[name].sideDifference = {};
    for (const angle of [10, 20, 30]) {
      const left = total(name, 1, `${angle},0`);
      const right = total(name, 1, `${-angle},0`);
      const ks = range(left, centre / 2, centre * 2, 2);
      const gap = (k) => level(left.get(k)) - level(right.get(k));
      const k = ks.reduce((best, at) => (Math.abs(gap(at)) > Math.abs(gap(best)) ? at : best), ks[0]);
      result[name].sideDifference[`±${angle}`] = {
        db: round(gap(k), 2),
        frequency: round(hertz(k), 1),
        rmsDb: round(Math.sqrt(mean(ks.map((at) => gap(at) ** 2))), 3),
      };
    }
    const far = total(name, 2, "0,0");
    const shared = range(far, from, to, 2);
    const moved = shared.map((k) => level(far.get(k)) - level(axis.get(k)));
    result[name].meanChangeFrom1To2mDb = round(mean(moved), 3);
    result[name].shapeChangeFrom1To2mDb = round(deviationOf(moved), 3);
    const driven = range(drive[name].tweeter, centre / 4, centre, 2);
    result[name].tweeterDriveDb.meanBelowCrossover = round(mean(driven.map((k) => 20 * Math.log10(size(drive[name].tweeter.get(k))))), 3);
  }

  const gap = result.found.sensitivity.for2V83Db - result.proposed.sensitivity.for2V83Db;
  result.tweeterDriveAtEqualSystemLevel = Object.fromEntries(
    ["at500", "at1000", "meanBelowCrossover"].map((at) => {
      const found = result.found.tweeterDriveDb[at];
      const proposed = result.proposed.tweeterDriveDb[at] + gap;
      return [at, { foundDb: found, proposedDb: round(proposed, 3), changeDb: round(proposed - found, 3) }];
    }),
  );

  const errors = [];
  const [levelMisses, pressureMisses, wholes] = [[], [], []];
  const limit = (distance) =>
    1 / si(project.measurements.find((m) => m.of === "loudspeaker" && m.distance === Number(distance)).gate.length);
  for (const [distance, directions] of Object.entries(pressure.loudspeaker)) {
    for (const [direction, whole] of Object.entries(directions)) {
      const sum = total("found", distance, direction);
      const ks = range(whole, from, to, 2);
      const missed = mean(ks.map((k) => size(less(sum.get(k), whole.get(k))) ** 2));
      for (const k of range(whole, limit(distance), Infinity, 2)) {
        levelMisses.push((level(sum.get(k)) - level(whole.get(k))) ** 2);
        pressureMisses.push(size(less(sum.get(k), whole.get(k))) ** 2);
        wholes.push(size(whole.get(k)) ** 2);
      }
      errors.push(Math.sqrt(missed / mean(ks.map((k) => size(whole.get(k)) ** 2))));
    }
  }
  const zErrors = range(measuredImpedance, 20, 20000).map((k) => {
    const measured = measuredImpedance.get(k);
    return size(less(drive.found.input.get(k), measured)) / size(measured);
  });
  const zMisses = range(measuredImpedance, 20, 20000, 2).map((k) => size(less(drive.found.input.get(k), measuredImpedance.get(k))) ** 2);
  const [modelled, whole] = [total("found", 1, "0,0"), pressure.loudspeaker[1]["0,0"]];
  const [a1, b1] = [modelled, whole].map((values) => lineOf(values, range(values, from, to, 2)));
  const smallest = Math.min(...range(measuredImpedance, 20, 20000).map((k) => size(measuredImpedance.get(k))));
  result.checkAsFound = {
    directions: errors.length,
    rmsLevelErrorDb: round(Math.sqrt(mean(levelMisses)), 5),
    angleDegrees: round((Math.atan(Math.sqrt(mean(pressureMisses) / mean(wholes))) * 180) / Math.PI, 4),
    rmsImpedanceError: round(Math.sqrt(mean(zMisses)), 6),
    misses: {
      sensitivityDb: round(Math.abs(bandLevel(modelled, 300, 3000) - bandLevel(whole, 300, 3000)), 5),
      standardDeviationDb: round(Math.abs(a1.standardDeviationDb - b1.standardDeviationDb), 5),
      worstDb: round(Math.abs(a1.worstDb - b1.worstDb), 5),
      smallestImpedance: round(
        Math.abs(Math.min(...range(drive.found.input, 20, 20000).map((k) => size(drive.found.input.get(k)))) - smallest),
        5,
      ),
    },
    worstRelativeRmsPressureError: round(Math.max(...errors), 5),
    largestRelativeImpedanceError: round(Math.max(...zErrors), 5),
  };
  return result;
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  console.log(JSON.stringify(plainArithmetic(), null, 2));
}
