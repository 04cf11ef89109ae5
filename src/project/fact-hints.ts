import type { JsonPath } from "./json-text";

/** What to write for a fact, by its place; `[]` stands for any index. The last line that ends the place holds. */
const hints: readonly (readonly [place: string, hint: string])[] = [
  ["version", 'Write "version": 1; other versions aren\'t known to this library'],
  ["name", 'Give it a name: "name": "…"'],
  ["ratedImpedance", 'Write the impedance by which the loudspeaker is sold, in Ω: "ratedImpedance": 8'],
  ["air", 'Write the temperature at which was measured, in °C: "air": { "temperature": 20 }'],
  [
    "amplifier",
    'Write what stands before the loudspeaker: "amplifier": { "outputResistance": "0.05 Ω", "cableResistance": "0.1 Ω", "cableInductance": "2 µH" }',
  ],
  ["outputResistance", 'Write the amplifier\'s output resistance: "outputResistance": "0.05 Ω" (0 for an ideal one)'],
  ["cableResistance", 'Write the resistance of both conductors of the cable: "cableResistance": "0.1 Ω" (0 for none)'],
  ["cableInductance", 'Write the inductance of the cable: "cableInductance": "2 µH" (0 for none)'],
  ["drivers", 'List the drivers: "drivers": [{ "name": "woofer", "position": …, "impedance": …, "role": "woofer" }]'],
  [
    "drivers[].position",
    'Write where the driver sits, in m: "position": { "x": 0, "y": 0, "z": 0 } (x towards the listener, y to the loudspeaker\'s own left, z up)',
  ],
  [
    "drivers[].impedance",
    'Name the file of its measured impedance: "impedance": { "file": "data/woofer-impedance.txt", "columns": "ohm-degrees" }; or let it share another driver\'s measurements: "sameAs": "woofer"',
  ],
  ["drivers[].role", 'Write what the driver is for: "role": "woofer", "midrange", "tweeter" or "full-range"'],
  ["measurements", 'List what was measured, or write "measurements": []'],
  ["measurements[].of", 'Write the name of the driver that was measured alone, or "loudspeaker" for the whole'],
  ["measurements[].quantity", 'Write "quantity": "pressure", or "impedance" for that of the whole loudspeaker'],
  [
    "columns",
    'Say what the files hold after the frequency: "db-degrees" (dB re 20 µPa), "db" or "re-im" (Pa) for a pressure, "ohm-degrees" or "re-im" (Ω) for an impedance',
  ],
  [
    "drive",
    'Write the voltage and where it stood: "drive": { "voltage": 2.83, "at": "terminals" } (the driver\'s own), or "at": "input" (through the network as found)',
  ],
  ["voltage", 'Write the voltage of the measurement in V rms: "voltage": 2.83'],
  ["drive.at", 'Write "at": "terminals" when the driver was driven directly, "input" when through the network as found'],
  ["distance", 'Write the distance from the rotation centre to the microphone, in m: "distance": 1'],
  ["rotationCentre", 'Write about which point the loudspeaker was turned, in m: "rotationCentre": { "x": 0, "y": 0, "z": 0 }'],
  [
    "timeZero",
    'Say whether all measurements share one time zero: "timeZero": { "common": true }, or state this one\'s: { "delay": "0.1 ms" }, or { "common": false } when it isn\'t known',
  ],
  ["trusted", 'Write the band in which the measurement can be trusted, in Hz: "trusted": { "from": 250, "to": 20000 }'],
  [
    "nearField.below",
    'Write where the near field ends, in Hz: "nearField": { "below": "300 Hz", "space": "full", "baffle": { "width": 0.2, "height": 0.3 } }',
  ],
  ["smoothing", 'Write how the curves were smoothed: "smoothing": "none", or "1/24 octave"'],
  ["gate", 'Write the length of the gate: "gate": { "length": "4 ms" }, or leave "gate" out when there was none'],
  ["gate.length", 'Write the length of the gate: "length": "4 ms"'],
  [
    "files",
    'List the measured files: [{ "azimuth": 0, "elevation": 0, "file": "data/woofer.txt" }] for a pressure (in degrees), [{ "file": "data/impedance.txt" }] for an impedance',
  ],
  ["azimuth", 'Write the angle in degrees, positive towards the loudspeaker\'s own left: "azimuth": 0'],
  ["elevation", 'Write the angle in degrees, positive up: "elevation": 0'],
  ["file", 'Name the file by its path relative to the project file: "file": "data/woofer.txt"'],
  ["from", 'Write the band\'s lower end in Hz: "from": 300'],
  ["to", 'Write the band\'s upper end in Hz: "to": 10000'],
  ["band", 'Write the band in Hz: "band": { "from": 300, "to": 10000 }'],
  ["networks", 'Write both networks: "networks": { "found": { "parts": […] }, "proposed": { "parts": […] } }'],
  ["networks.found", 'Write the network as it is: "found": { "parts": […] }; measurements through it and the comparison need it'],
  ["networks.proposed", 'Write the new network: "proposed": { "parts": […] }; to begin with, repeat the parts of "found"'],
  ["parts", 'List at least one part: { "name": "R1", "kind": "resistor", "resistance": "2.2 Ω", "nodes": ["in", "gnd"] }'],
];

/** What to write at a place; a general sentence where the table is silent. */
export function factHint(path: JsonPath, otherwise = "Correct it; docs/project-file.md describes every key"): string {
  const place = path
    .map((key) => (typeof key === "number" ? "[]" : `.${key}`))
    .join("")
    .slice(1);
  const found = hints.filter(([end]) => place === end || place.endsWith(`.${end}`));
  return found.at(-1)?.[1] ?? otherwise;
}
