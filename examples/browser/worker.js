// Everything that computes: reads the project and its measured files once, then answers each set of values with levels and impedances. The
// page never waits for it.
import { compile, levelDb, logGrid, magnitude, network, predict } from "dividing-network";
import { divideResponses } from "dividing-network/response";
import { readProject } from "dividing-network/project";

const folder = new URL("desk-monitor/", self.location.href);
const text = async (path) => {
  const answer = await fetch(new URL(path, folder));
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return answer.text();
};

self.addEventListener("securitypolicyviolation", (event) =>
  self.postMessage({ kind: "violation", of: `${event.violatedDirective} ${event.blockedURI}` }),
);

/** Hz: where all angles are trusted; and for the impedance. */
const heard = logGrid(300, 16_000, 240);
const driven = logGrid(20, 20_000, 240);
const angles = [-30, -20, -10, 0, 10, 20, 30];

const { found, proposed } = await readProject(await text("project.json"), { file: "project.json", readFile: text });
const options = { sourceImpedance: proposed.sourceImpedance };
const places = angles.map((azimuth) => ({ distance: 1, azimuth, elevation: 0 }));

/** What each driver gives at each angle for a volt at its terminals: the network changes nothing in it. */
const first = predict(proposed, { frequencies: heard, places });
const names = proposed.drivers.map(({ name }) => name);
const perVolt = first.places.map(({ branches }) => names.map((name) => divideResponses(branches[name], first.sweep.voltage(name))));

/** A network with the tweeter as drawn, and turned. */
const turned = ([part, ...nodes]) => [part, ...nodes.reverse()];
const ways = [false, true].map((reversed) =>
  compile(network(reversed ? { ...proposed.network, tweeter: turned(proposed.network.tweeter) } : proposed.network)),
);

function answer(values, reversed) {
  const way = ways[reversed ? 1 : 0];
  const sweep = way.sweep(heard, { ...options, values });
  const voltages = names.map((name) => sweep.voltage(name));
  const level = (re, im) => 20 * Math.log10(Math.max(Math.hypot(re, im), 1e-9) / 20e-6);
  const sums = perVolt.map((drivers) => {
    const out = new Float32Array(heard.length);
    for (let i = 0; i < heard.length; i++) {
      let [re, im] = [0, 0];
      drivers.forEach((p, d) => {
        const v = voltages[d];
        re += p.re[i] * v.re[i] - p.im[i] * v.im[i];
        im += p.re[i] * v.im[i] + p.im[i] * v.re[i];
      });
      out[i] = level(re, im);
    }
    return out;
  });
  const axis = perVolt[angles.indexOf(0)];
  const branches = axis.map((p, d) =>
    Float32Array.from(heard, (_, i) =>
      level(p.re[i] * voltages[d].re[i] - p.im[i] * voltages[d].im[i], p.re[i] * voltages[d].im[i] + p.im[i] * voltages[d].re[i]),
    ),
  );
  const { impedance } = way.sweep(driven, { values });
  const sizes = Float32Array.from(magnitude(impedance));
  const least = sizes.indexOf(sizes.reduce((a, b) => Math.min(a, b)));
  return { sums, branches, impedance: sizes, least: { magnitude: sizes[least], frequency: driven[least] } };
}

const before = predict(found, { frequencies: heard, places: places.filter(({ azimuth }) => azimuth === 0) }).places[0].sum;
const shown = Object.entries(proposed.network)
  .filter(([, [part]]) => part.kind !== "driver")
  .map(([name, [part, from, to]]) => ({
    name,
    kind: part.kind,
    from,
    to,
    value: part.resistance ?? part.inductance ?? part.capacitance,
  }));
self.postMessage({
  kind: "ready",
  heard,
  driven,
  angles,
  drivers: names,
  parts: shown,
  found: Float32Array.from(levelDb(before, { reference: 20e-6 })),
  foundImpedance: Float32Array.from(magnitude(compile(found.network).sweep(driven).impedance)),
});

self.onmessage = ({ data }) => {
  const started = performance.now();
  const result = answer(data.values, data.reversed);
  self.postMessage({ kind: "answer", id: data.id, ...result, milliseconds: performance.now() - started });
};
