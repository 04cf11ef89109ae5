// What the compiler says to wrong code is part of the library: each message names what is wrong where it stands, and shows what
// there is. All snippets are one program.
import { describe, expect, it } from "vitest";
import { compileSnippets } from "./snippets";

const head = `
import { compile, fragment, join, network, solve } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { attenuator, bridgedTee, butterworth, crossover, ladder, lowPass, seriesCrossover, zobel } from "dividing-network/alignments";
declare const grid: Float64Array;
const r = resistor(8), l = inductor("1 mH"), c = capacitor("1 µF");
const pad = lPad({ attenuationDb: 3, load: 8 });
const way = network({ C1: [c, "in", "t"], tweeter: [r, "t", "gnd"] });
const sweep = solve(way, grid);
const z = zobel({ re: 6, le: "0.5 mH" });
`;
/** Title, code, and what the compiler says, whole. A list of names may stand in any order. */
type Case = readonly [title: string, code: string, message: string];

const network: readonly Case[] = [
  [
    "an L-pad with two nodes",
    `network({ P1: [pad, "in", "gnd"], R1: [r, "in", "gnd"] });`,
    "Type '[LPad, string, string]' is not assignable to type 'readonly [part: LPad, input: string, output: string, common: string]'.\n  Source has 3 element(s) but target requires 4.",
  ],
  [
    "the same in a fragment",
    `fragment({ P1: [pad, "in", "gnd"] });`,
    "Type '[LPad, string, string]' is not assignable to type 'readonly [part: LPad, input: string, output: string, common: string]'.\n  Source has 3 element(s) but target requires 4.",
  ],
  [
    "the same in a piece",
    `join(way, { P1: [pad, "in", "gnd"] });`,
    "Type '[LPad, string, string]' is not assignable to type 'readonly [part: LPad, input: string, output: string, common: string]'.\n  Source has 3 element(s) but target requires 4.",
  ],
  [
    "the same, solved as it is",
    `solve({ P1: [pad, "in", "gnd"] }, grid);`,
    "Type '[LPad, string, string]' is not assignable to type 'readonly [part: LPad, input: string, output: string, common: string]'.\n  Source has 3 element(s) but target requires 4.",
  ],
  [
    "the same, compiled as it is",
    `compile({ P1: [pad, "in", "gnd"] });`,
    "Type '[LPad, string, string]' is not assignable to type 'readonly [part: LPad, input: string, output: string, common: string]'.\n  Source has 3 element(s) but target requires 4.",
  ],
  [
    "a resistor with three nodes",
    `network({ R1: [r, "in", "a", "gnd"] });`,
    "Type '[Resistor, string, string, string]' is not assignable to type 'readonly [part: TwoTerminalPart, from: string, to: string]'.\n  Source has 4 element(s) but target allows only 3.",
  ],
  [
    "a transformer with three nodes",
    `network({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s"], R1: [r, "s", "gnd"] });`,
    "Type '[Transformer, string, string, string]' is not assignable to type 'readonly [part: Transformer, primaryDot: string, primaryEnd: string, secondaryDot: string, secondaryEnd: string]'.\n  Source has 4 element(s) but target requires 5.",
  ],
  [
    "nothing at the amplifier",
    `network({ R1: [r, "inn", "gnd"] });`,
    "Argument of type '{ R1: (string | Resistor)[]; }' is not assignable to parameter of type '\"no part touches \\\"in\\\", the amplifier's terminal\"'.",
  ],
  [
    "a part named as a node",
    `network({ R1: [r, "in", "R2"], R2: [r, "R2", "gnd"] });`,
    "Type '(string | Resistor)[]' is not assignable to type '\"\\\"R2\\\" is the name of a part and of a node: one of them needs another\"'.",
  ],
  [
    "a coupling to a coil that isn't there",
    `network({ L1: [l, "in", "a"], L2: [l, "a", "gnd"], K1: [coupling(0.1), "L1", "L9"] });`,
    'Type \'"L9"\' is not assignable to type \'"L1" | "L2"\'.',
  ],
  [
    "a coupling to a capacitor",
    `network({ L1: [l, "in", "a"], C1: [c, "a", "gnd"], K1: [coupling(0.1), "L1", "C1"] });`,
    "Type '\"C1\"' is not assignable to type '\"L1\"'.",
  ],
];

const answers: readonly Case[] = [
  [
    "a misspelt part",
    `sweep.voltage("tweeetr");`,
    'Argument of type \'"tweeetr"\' is not assignable to parameter of type \'"C1" | "gnd" | "in" | "t" | "tweeter"\'.',
  ],
  [
    "a node in place of a part",
    `sweep.current("t");`,
    'Argument of type \'"t"\' is not assignable to parameter of type \'"C1" | "tweeter"\'.',
  ],
  [
    "a misspelt node",
    `sweep.voltageBetween("t", "b");`,
    'Argument of type \'"b"\' is not assignable to parameter of type \'"gnd" | "in" | "t"\'.',
  ],
  [
    "a misspelt part beside a branch",
    `solve(join(way, z.branch({ from: "t", to: "gnd", prefix: "Z" })), grid).voltage("tweeetr");`,
    'Argument of type \'"tweeetr"\' is not assignable to parameter of type \'"C1" | "ZC1" | "ZR1" | "ZR1.a" | "gnd" | "in" | "t" | "tweeter"\'.',
  ],
  [
    "a part of a branch without its prefix",
    `solve(join(way, z.branch({ from: "t", to: "gnd", prefix: "Z" })), grid).current("R1");`,
    'Argument of type \'"R1"\' is not assignable to parameter of type \'"C1" | "ZC1" | "ZR1" | "tweeter"\'.',
  ],
  [
    "a part that an L-pad hasn't",
    `solve(join(attenuator({ attenuationDb: 3, load: 8 }).branch({ from: "in", to: "t" }), { D1: [r, "t", "gnd"] }), grid).current("R3");`,
    'Argument of type \'"R3"\' is not assignable to parameter of type \'"D1" | "R1" | "R2"\'.',
  ],
  [
    "a coupling of a branch, which carries no current",
    `solve(join(bridgedTee({ frequency: 1000, q: 0.5, load: 8 }).branch({ from: "in", to: "t" }), { D1: [r, "t", "gnd"] }), grid).current("K1");`,
    'Argument of type \'"K1"\' is not assignable to parameter of type \'"C1" | "C2" | "D1" | "L1" | "L2" | "L3"\'.',
  ],
  [
    "a node that a series crossover hasn't",
    `const sc = seriesCrossover({ order: 2, frequency: 1000, load: 8 }); const at = { from: "in", to: "gnd" } as const; solve(join(sc.branch(at), { W: [r, ...sc.terminals(at).lowPass] }), grid).voltageBetween("in", "x");`,
    'Argument of type \'"x"\' is not assignable to parameter of type \'"C1.1" | "C2.2" | "L2.2" | "gnd" | "in"\'.',
  ],
];

const joins: readonly Case[] = [
  [
    "a part in both pieces",
    `join(way, { tweeter: [r, "t", "gnd"] });`,
    "Argument of type '{ tweeter: (string | Resistor)[]; }' is not assignable to parameter of type '\"pieces 1 and 2 both have a part named \\\"tweeter\\\"\"'.",
  ],
  [
    "a part in the second and the fourth piece",
    `join(fragment({ R8: [r, "in", "t"] }), way, fragment({ R9: [r, "in", "t"] }), { tweeter: [r, "t", "gnd"] });`,
    "Argument of type '{ tweeter: (string | Resistor)[]; }' is not assignable to parameter of type '\"pieces 2 and 4 both have a part named \\\"tweeter\\\"\"'.",
  ],
  [
    "values whose branch wasn't taken",
    `join(way, attenuator({ attenuationDb: 3, load: 8 }));`,
    'Argument of type \'Attenuator\' is not assignable to parameter of type \'"these are values: take their branch, .branch({ from: \\"a\\", to: \\"gnd\\", prefix: \\"Z\\" })"\'.',
  ],
  [
    "a branch without a prefix",
    `join(way, fragment({ R1: [r, "in", "t"] }), attenuator({ attenuationDb: 3, load: 8 }).branch({ from: "t", to: "u" }));`,
    'Argument of type \'Readonly<{ readonly R1: readonly [Resistor, "t", "u"]; readonly R2?: readonly [Resistor, "u", "gnd"]; }>\' is not assignable to parameter of type \'"pieces 2 and 3 both have a part named \\"R1\\""\'.',
  ],
];

const words: readonly Case[] = [
  [
    "a capacitance for an inductance",
    `inductor("6.8 µF");`,
    "Argument of type '\"6.8 µF\"' is not assignable to parameter of type 'Inductance'.",
  ],
  [
    "an inductance for a capacitance, inside a network",
    `network({ C1: [capacitor("6.8 mH"), "in", "gnd"] });`,
    "Argument of type '\"6.8 mH\"' is not assignable to parameter of type 'Capacitance'.",
  ],
  ["a number without its unit", `resistor("4.7");`, "Argument of type '\"4.7\"' is not assignable to parameter of type 'Resistance'."],
  [
    "a frequency for an inductance, in options",
    `driverImpedance({ re: "5 Ω", le: "800 Hz" });`,
    "Type '\"800 Hz\"' is not assignable to type 'Inductance | undefined'.",
  ],
  [
    "a family by the name of its function",
    `crossover({ family: "linkwitzRiley", order: 2, frequency: 1000, load: 8 });`,
    "Type '\"linkwitzRiley\"' is not assignable to type 'FamilyName'. Did you mean '\"linkwitz-riley\"'?",
  ],
  [
    "a misspelt option of a branch",
    `z.branch({ from: "t", to: "gnd", prefx: "Z" });`,
    "Object literal may only specify known properties, but 'prefx' does not exist in type 'BranchNodes'. Did you mean to write 'prefix'?",
  ],
  [
    "a branch without an end",
    `z.branch({ from: "t" });`,
    "Argument of type '{ from: string; }' is not assignable to parameter of type 'BranchNodes'.\n  Property 'to' is missing in type '{ from: string; }' but required in type 'BranchNodes'.",
  ],
];

const filters: readonly Case[] = [
  [
    "a filter for a prototype, in a ladder",
    `ladder(lowPass(butterworth(2), 1000), { pass: "low", frequency: 1000, load: 8 });`,
    "Argument of type 'Filter' is not assignable to parameter of type 'PrototypeFunction'.\n  Types of property 'scaled' are incompatible.\n    Type 'true' is not assignable to type '\"this is a filter at its frequency: give the prototype itself, such as butterworth(2)\"'.",
  ],
];

const all = [...network, ...answers, ...joins, ...words, ...filters];
const { messages } = compileSnippets(Object.fromEntries(all.map(([title, code]) => [title.replace(/\W+/g, "-"), head + code])));

/** A union of names in the order of the alphabet: the compiler lists them as it came across them. */
const inOrder = (message: string): string => message.replace(/"[^"]*"(?: \| "[^"]*")+/g, (list) => list.split(" | ").sort().join(" | "));

describe.each([
  ["a network", network],
  ["an answer", answers],
  ["a join", joins],
  ["a word", words],
  ["a filter", filters],
])("the compiler about %s", (_, list) => {
  it.each(list)("%s", (title, __, message) => {
    expect(messages[title.replace(/\W+/g, "-")]!.map(inOrder)).toEqual([message]);
  });
});
