import { call, dictionary, flag, list, maybe, number, record, text, type Shape } from "./shape";

/** What the report reads of a comparison. A function, so that nothing is built by who imports something else. */
export function comparisonShape(): Shape {
  const band = record({ from: number, to: number });
  const mark = record({ kind: text, from: maybe(number), to: maybe(number), note: text });
  const response = record({ frequencies: floats, re: floats, im: floats, marks: maybe(list(mark)) });
  const place = { azimuth: number, elevation: number };
  const danger = record({ code: text, sentence: text, value: number, limit: number, unit: text });

  const prediction = record({
    loudspeaker: record({ network: record({}), drivers: list(record({ name: text, part: text, role: text })) }),
    frequencies: floats,
    voltage: number,
    sweep: record({ voltage: call, current: call, impedance: response }),
    places: list(record({ ...place, distance: number, sum: response, branches: dictionary(response) })),
  });
  const goal = record({
    band,
    levelDb: maybe(number),
    slopeDbPerOctave: number,
    corridorDb: number,
    places: list(record({ ...place, weight: number })),
    amplifier: record({}),
    derating: record({ power: number, voltage: number, current: number }),
  });
  const quality = record({
    axisDb: number,
    worstDb: number,
    levelDb: number,
    places: list(record({ ...place, lossDb: number, worstDb: number, band })),
    load: record({ minimum: number, limit: maybe(number), peakDissipation: number }),
    spared: list(record({ driver: text, part: text, limitDb: number })),
  });
  const check = record({
    code: text,
    name: text,
    quantity: text,
    value: number,
    sine: number,
    required: number,
    unit: text,
    frequency: number,
    sentence: text,
  });
  const assessment = record({
    prediction,
    ratedImpedance: number,
    goal,
    quality,
    dangers: list(danger),
    ratings: record({
      stress: maybe(record({})),
      drivers: list(record({ driver: text })),
      checks: list(check),
      notChecked: list(text),
      level: text,
    }),
    limitsNotChecked: list(text),
    distance: number,
    band,
    handovers: list(
      record({ lower: text, upper: text, frequency: number, overlapOctaves: number, nullDepthDb: number, nullFrequency: number }),
    ),
    load: record({ impedance: response, minimum: number, minimumFrequency: number }),
    marks: list(mark),
  });
  const finding = record({
    topic: text,
    code: text,
    subject: text,
    before: number,
    after: number,
    unit: text,
    decimals: number,
    better: text,
    threshold: maybe(record({ value: number, comparison: text, reason: text })),
    kept: maybe(flag),
    residual: maybe(number),
    verdict: text,
    sentence: text,
    marks: list(mark),
  });
  const topic = record({
    topic: text,
    change: text,
    before: maybe(number),
    after: maybe(number),
    unit: text,
    decimals: number,
    limit: text,
    kept: maybe(flag),
    sentence: text,
  });
  return record({
    before: assessment,
    after: assessment,
    model: maybe(
      record({
        bands: list(record({ centre: number, levelDb: maybe(number), impedance: maybe(number) })),
        levelDb: maybe(number),
        impedance: maybe(number),
        places: number,
        measured: record({ pressures: list(record({ ...place, distance: number, response })), impedance: maybe(response) }),
      }),
    ),
    crossover: maybe(number),
    findings: list(finding),
    verdict: record({
      overall: text,
      sentence: text,
      dangers: list(danger),
      topics: list(topic),
      trust: record({ state: text, sentence: text }),
      suspects: list(record({ parts: list(text), fault: text, misfit: number })),
    }),
  });
}

const floats: Shape = (value, at) =>
  Object.prototype.toString.call(value) === "[object Float64Array]" && (value as Float64Array).length > 0
    ? undefined
    : { at, should: "a Float64Array" };
