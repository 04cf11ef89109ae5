#!/usr/bin/env node
// Writes the measurements of the example "desk monitor": node examples/make-data.mjs
//
// Everything here is INVENTED: the community radio station, its monitor, both drivers and the network found in it. The
// files stand in for measurements that a designer would bring. They come from simple physics, written here and nowhere
// else (nothing is imported from the library, so that the library's answers can be held against them):
// - a driver is Re + a lossy coil + the resonance of its moving parts in a closed chamber; the velocity follows from the
//   back-EMF, the pressure from the volume acceleration;
// - above that a cone with break-up, the directivity of a flat piston, a gentle baffle step, four weak edge echoes;
// - every path is geometric, from the driver's own acoustic centre to the microphone, at the speed of sound of the room;
// - the network as found is a ladder of two branches behind the impedance of amplifier and cable, its tweeter reversed;
// - the whole loudspeaker was measured on another day: at each place each driver's path is off by some 3 mm and its level by some
//   0.2 dB (normally distributed), beside noise of its own. No model meets a repeated measurement better than that;
// - noise and errors come from a fixed seed for each file, so that a second run writes the same bytes.
// No floor reflection is simulated. Its delay is computed from the heights stated, and nothing below 1/T is written.
import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";

// ---------------------------------------------------------------- complex numbers as [re, im]
const add = (...terms) => [terms.reduce((s, t) => s + t[0], 0), terms.reduce((s, t) => s + t[1], 0)];
const mul = ([a, b], [c, d]) => [a * c - b * d, a * d + b * c];
const div = ([a, b], [c, d]) => [(a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)];
const scale = (k, [a, b]) => [k * a, k * b];
const polar = (magnitude, radians) => [magnitude * Math.cos(radians), magnitude * Math.sin(radians)];
const parallel = (a, b) => div(mul(a, b), add(a, b));

// ---------------------------------------------------------------- the scenario (SI units, °C)
export const scenario = {
  temperature: 22,
  voltage: 2.83,
  source: { resistance: 0.05 + 0.08, inductance: 2e-6 }, // amplifier and cable
  repeat: { path: 3e-3, levelDb: 0.2 }, // standard deviations per driver in the measurements of the whole: m, dB
  room: { height: 1.25, gates: { 1: 4.9e-3, 2: 3.4e-3 } }, // loudspeaker and microphone above the floor; gate by distance
  baffle: { left: 0.15, right: -0.15, top: 0.095, bottom: -0.095, step: 0.75, stepFrequency: 430, edge: 0.03 },
  woofer: {
    position: [0, 0.049, 0],
    depth: 0.02, // the acoustic centre lies this far behind the baffle
    radius: 0.0523,
    decoupling: 4200, // Hz: above, less and less of the diaphragm radiates
    re: 3.4,
    coil: { le: 0.035e-3, le2: 0.12e-3, re2: 1.1 },
    resonance: { frequency: 76, q: 3.8 }, // in the box
    mass: 9.6e-3,
    bl: 4.15,
    breakUp: [
      { frequency: 5400, q: 2.6, gain: 0.7 },
      { frequency: 8300, q: 5, gain: 0.7 },
    ],
    rollOff: { frequency: 5600, q: 0.6 },
  },
  tweeter: {
    position: [0, -0.049, 0],
    depth: 0.001,
    radius: 0.0145,
    decoupling: 14000,
    re: 3.2,
    coil: { k: 0.0021, n: 0.62 }, // K (jω)^n
    resonance: { frequency: 690, q: 2.4 },
    mass: 0.31e-3,
    bl: 2.0,
    breakUp: [],
    rollOff: { frequency: 27000, q: 1.3 },
  },
  found: { coil: { inductance: 0.12e-3, dcr: 0.6 }, capacitor: { capacitance: 22e-6, esr: 0.5 }, tweeterPolarity: -1 },
};

// ---------------------------------------------------------------- physics
const kelvin = (celsius) => celsius + 273.15;
export const speedOfSound = (celsius) => 343.2 * Math.sqrt(kelvin(celsius) / 293.15);
const density = (celsius) => 1.204 * (293.15 / kelvin(celsius));

/** 2 J1(x)/x by its power series; x stays below 8 here. */
function pistonDirectivity(x) {
  let term = 1;
  let sum = 1;
  for (let m = 1; m < 60; m++) {
    term *= -(x * x) / 4 / (m * (m + 1));
    sum += term;
  }
  return sum;
}

/** The part of a driver's impedance that its motion causes, Ω. */
function motionalImpedance(driver, f) {
  const { frequency, q } = driver.resonance;
  const resistance = (driver.bl ** 2 * q) / (2 * Math.PI * frequency * driver.mass);
  return div([resistance, 0], [1, q * (f / frequency - frequency / f)]);
}

/** Impedance of one driver, Ω. */
export function impedance(driver, f) {
  const w = 2 * Math.PI * f;
  const { coil } = driver;
  const lossy =
    coil.k === undefined
      ? add([0, w * coil.le], parallel([coil.re2, 0], [0, w * coil.le2]))
      : polar(coil.k * w ** coil.n, (coil.n * Math.PI) / 2);
  return add([driver.re, 0], lossy, motionalImpedance(driver, f));
}

/** Sound pressure at a microphone for one volt at the driver's terminals, Pa/V. */
export function pressurePerVolt(driver, f, microphone) {
  const { baffle, temperature } = scenario;
  const w = 2 * Math.PI * f;
  const k = w / speedOfSound(temperature);
  const [, y, z] = driver.position;
  const direct = Math.hypot(microphone[0] + driver.depth, microphone[1] - y, microphone[2] - z);
  const sine = Math.hypot(microphone[1] - y, microphone[2] - z) / direct;
  const radius = driver.radius / Math.hypot(1, f / driver.decoupling);

  const velocity = scale(1 / driver.bl, div(motionalImpedance(driver, f), impedance(driver, f))); // m/s per V
  const area = Math.PI * driver.radius ** 2;
  let pressure = mul([0, (w * density(temperature) * area) / (2 * Math.PI)], velocity); // at 1 m, half space

  const second = ({ frequency, q }) => [1 - (f / frequency) ** 2, f / frequency / q];
  pressure = div(pressure, second(driver.rollOff));
  for (const mode of driver.breakUp) {
    pressure = mul(pressure, add([1, 0], div([0, (mode.gain * f) / mode.frequency / mode.q], second(mode))));
  }
  pressure = mul(pressure, div([baffle.step, f / baffle.stepFrequency], [1, f / baffle.stepFrequency]));

  let field = polar(pistonDirectivity(k * radius * sine) / direct, -k * direct);
  const edges = [
    [0, baffle.left, z],
    [0, baffle.right, z],
    [0, y, baffle.top],
    [0, y, baffle.bottom],
  ];
  for (const edge of edges) {
    const toEdge = driver.depth + Math.hypot(edge[1] - y, edge[2] - z);
    const onwards = Math.hypot(...edge.map((value, i) => microphone[i] - value));
    field = add(field, polar((-baffle.edge * pistonDirectivity(k * radius)) / onwards, -k * (toEdge + onwards)));
  }
  return mul(pressure, field);
}

/** The network as found: input impedance in Ω, and the volts from + to - of each driver per volt of the amplifier's open circuit. */
export function foundNetwork(f) {
  const w = 2 * Math.PI * f;
  const { found, source } = scenario;
  const woofer = impedance(scenario.woofer, f);
  const tweeter = impedance(scenario.tweeter, f);
  const low = add(woofer, [found.coil.dcr, w * found.coil.inductance]);
  const high = add(tweeter, [found.capacitor.esr, -1 / (w * found.capacitor.capacitance)]);
  const input = parallel(low, high);
  const terminals = div(input, add(input, [source.resistance, w * source.inductance]));
  return { input, woofer: mul(terminals, div(woofer, low)), tweeter: scale(found.tweeterPolarity, mul(terminals, div(tweeter, high))) };
}

/** The microphone on its sphere around the rotation centre (the origin), m. */
export function microphoneAt(distance, azimuth, elevation) {
  const a = (azimuth * Math.PI) / 180;
  const e = (elevation * Math.PI) / 180;
  return [distance * Math.cos(e) * Math.cos(a), distance * Math.cos(e) * Math.sin(a), distance * Math.sin(e)];
}

/** Grid through 1 kHz at 48 points an octave, the points from `low` to `high`, Hz. */
export function grid(low, high) {
  const points = [];
  for (let k = -300; k <= 300; k++) {
    const f = 1000 * 2 ** (k / 48);
    if (f >= low && f <= high) points.push(f);
  }
  return points;
}

// ---------------------------------------------------------------- noise from a fixed seed
function gaussianSource(name) {
  let state = 2166136261;
  for (const character of name) state = Math.imul(state ^ character.codePointAt(0), 16777619) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  // Complex normal: mean square 1, so that each part has a variance of one half.
  return () => polar(Math.sqrt(-Math.log(1 - uniform())), 2 * Math.PI * uniform());
}

// ---------------------------------------------------------------- text, in three dialects
const levelDb = ([re, im], reference) => 20 * Math.log10(Math.hypot(re, im) / reference);
const degrees = ([re, im]) => (Math.atan2(im, re) * 180) / Math.PI;
const dialects = {
  woofer: { mark: "#", separator: "\t", decimal: ".", header: true },
  tweeter: { mark: "#", separator: ";", decimal: ",", header: false },
  loudspeaker: { mark: "#", separator: "  ", decimal: ".", header: false },
};

function table(dialect, comments, names, rows) {
  const { mark, separator, decimal, header } = dialect;
  const lines = comments.map((comment) => `${mark} ${comment}`);
  if (header) lines.push(names.join(separator));
  else lines.push(`${mark} columns: ${names.join(", ")}`);
  for (const row of rows) lines.push(row.map((cell) => cell.replace(".", decimal)).join(separator));
  return `${lines.join("\n")}\n`;
}

const hertz = (f) => f.toPrecision(8);
const invented = "INVENTED data of an example: desk monitor of an invented community radio station; computed, not measured";

function pressureFile(of, distance, azimuth, elevation) {
  const { room, voltage } = scenario;
  const gate = room.gates[distance];
  const reflection = (Math.hypot(distance, 2 * room.height) - distance) / speedOfSound(scenario.temperature);
  const name = `${of}${distance === 1 ? "" : `-${distance}m`}-${direction(azimuth, elevation)}.txt`;
  const microphone = microphoneAt(distance, azimuth, elevation);
  const noise = gaussianSource(name);
  const errors = errorsOf(name);
  const floor = (10 ** (-60 / 20) * 0.5) / distance; // Pa rms, about 60 dB below the level on the axis
  const rows = grid(1 / gate, 20200).map((f) => {
    let perVolt;
    if (of === "loudspeaker") {
      const drive = foundNetwork(f);
      const off = ({ path, gain }) => polar(gain, ((-2 * Math.PI * f) / speedOfSound(scenario.temperature)) * path);
      perVolt = add(
        ...["woofer", "tweeter"].map((driver) =>
          mul(off(errors[driver]), mul(drive[driver], pressurePerVolt(scenario[driver], f, microphone))),
        ),
      );
    } else {
      perVolt = pressurePerVolt(scenario[of], f, microphone);
    }
    const p = add(scale(voltage, perVolt), scale(floor, noise()));
    return of === "loudspeaker"
      ? [hertz(f), p[0].toExponential(5), p[1].toExponential(5)]
      : [hertz(f), levelDb(p, 20e-6).toFixed(3), degrees(p).toFixed(2)];
  });
  const comments = [
    invented,
    of === "loudspeaker"
      ? `whole loudspeaker through its network as found; ${voltage} V is the amplifier's open-circuit voltage`
      : `${of} alone, ${voltage} V at its own terminals, the other driver not connected`,
    `microphone ${distance} m from the middle between the drivers, azimuth ${azimuth} deg (positive to the loudspeaker's own left), `
      + `elevation ${elevation} deg`,
    `air ${scenario.temperature} deg C; phase includes the flight from the instant of drive (common time zero)`,
    `heights ${room.height} m: the floor's reflection comes ${(reflection * 1e3).toFixed(2)} ms late; `
      + `gate T = ${(gate * 1e3).toFixed(1)} ms, nothing below 1/T = ${(1 / gate).toFixed(1)} Hz`,
  ];
  if (of === "loudspeaker")
    comments.push(
      `measured on another day: each driver ${scenario.repeat.path * 1e3} mm and ${scenario.repeat.levelDb} dB off (standard deviations)`,
    );
  const names =
    of === "loudspeaker"
      ? ["frequency Hz", "sound pressure Pa re", "sound pressure Pa im"]
      : ["frequency Hz", "level dB re 20 uPa", "phase deg"];
  return { name, text: table(dialects[of], comments, names, rows) };
}

function impedanceFile(of) {
  const name = `${of}-impedance.txt`;
  const noise = gaussianSource(name);
  const rows = grid(19.9, 20200).map((f) => {
    const exact = of === "loudspeaker" ? foundNetwork(f).input : impedance(scenario[of], f);
    const z = add(exact, scale(10 ** (-60 / 20) * 4, noise()));
    return [hertz(f), Math.hypot(...z).toFixed(4), degrees(z).toFixed(3)];
  });
  const subject =
    of === "loudspeaker"
      ? "impedance of the whole loudspeaker with its network as found"
      : `impedance of the ${of} alone, in its own chamber`;
  return { name, text: table(dialects[of], [invented, subject], ["frequency Hz", "impedance ohm", "phase deg"], rows) };
}

/** Seen from the loudspeaker: its own left and right. */
function direction(azimuth, elevation) {
  if (azimuth === 0 && elevation === 0) return "axis";
  return elevation === 0
    ? `${azimuth > 0 ? "left" : "right"}${Math.abs(azimuth)}`
    : `${elevation > 0 ? "up" : "down"}${Math.abs(elevation)}`;
}

/** How far off each driver is in one measurement of the whole: m, and a factor. */
function errorsOf(name) {
  const { path, levelDb: spread } = scenario.repeat;
  const next = gaussianSource(`errors of ${name}`);
  const normal = () => Math.SQRT2 * next()[0];
  return Object.fromEntries(
    ["woofer", "tweeter"].map((driver) => [driver, { path: path * normal(), gain: 10 ** ((spread * normal()) / 20) }]),
  );
}

/** All files of the example: `{ name, text }`. */
export function files() {
  const all = [];
  for (const of of ["woofer", "tweeter", "loudspeaker"]) {
    all.push(impedanceFile(of));
    for (let azimuth = -60; azimuth <= 60; azimuth += 10) all.push(pressureFile(of, 1, azimuth, 0));
    for (const elevation of [-20, -10, 10, 20]) all.push(pressureFile(of, 1, 0, elevation));
    all.push(pressureFile(of, 2, 0, 0));
  }
  return all;
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const folder = fileURLToPath(new URL("./desk-monitor/data/", import.meta.url));
  mkdirSync(folder, { recursive: true });
  let bytes = 0;
  for (const { name, text } of files()) {
    writeFileSync(`${folder}${name}`, text);
    bytes += Buffer.byteLength(text);
  }
  console.log(`${files().length} files, ${(bytes / 1e6).toFixed(2)} MB, in examples/desk-monitor/data`);
}
