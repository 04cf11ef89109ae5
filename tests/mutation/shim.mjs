// As much of the test runner as the tests of numbers need, for `in-one-process.mjs`: tests are collected, not run.
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  customMatchers,
  setState,
} from "@vitest/expect";
import * as chai from "chai";

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export const expect = (value, message) => chai.expect(value, message);
Object.assign(expect, chai.expect);
Object.defineProperty(globalThis, GLOBAL_EXPECT, { value: expect, writable: true, configurable: true });
setState({ assertionCalls: 0, isExpectingAssertions: false, expectedAssertionsNumber: null }, expect);
expect.extend = (matchers) => chai.expect.extend(expect, matchers);
expect.extend(customMatchers);
Object.assign(expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT] ?? {});

const all = (globalThis.__tests__ = { tests: [] });
let suite = { name: "", before: [], parent: undefined };

export function describe(name, body) {
  suite = { name: `${suite.name}${name} `, before: [], parent: suite };
  body();
  suite = suite.parent;
}
/** Rows may hold what has no text of its own. */
const numbered = (name, at) => `${name} (${String(at + 1)})`;
describe.each = (cases) => (name, body) =>
  cases.forEach((each, at) => describe(numbered(name, at), () => body(...(Array.isArray(each) ? each : [each]))));
describe.skip = () => undefined;
describe.skipIf = (skip) => (skip ? describe.skip : describe);

export function it(name, given, other) {
  const body = typeof given === "function" ? given : other;
  const own = suite;
  all.tests.push({
    name: `${own.name}${name}`,
    groups: () => {
      const names = [];
      for (let at = own; at !== undefined; at = at.parent) names.push(...at.before.flatMap(({ group }) => group ?? []));
      return names;
    },
    test: async () => {
      const { warn } = console;
      let warned = false;
      console.warn = () => (warned = true);
      try {
        for (let at = own; at !== undefined; at = at.parent) for (const before of at.before) await before();
        await body({ expect });
        if (warned) throw new Error("nothing may call console.warn");
      } finally {
        console.warn = warn;
      }
    },
  });
}
it.each = (cases) => (name, body) =>
  cases.forEach((each, at) => it(numbered(name, at), () => body(...(Array.isArray(each) ? each : [each]))));
it.skip = () => undefined;
it.skipIf = (skip) => (skip ? it.skip : it);
export const test = it;

/** Once for each change. While it is seen what tests reach, what it reaches is noted under its own name: each test of the group reaches it. */
export function beforeAll(before) {
  const name = `before ${String(befores++)}`;
  let [done, round] = [undefined, undefined];
  suite.before.push(
    Object.assign(
      () => {
        if (done !== undefined && all.round === round) return done;
        round = all.round;
        const { __stryker__: seen = {} } = globalThis;
        const { currentTestId } = seen;
        if (round === undefined) seen.currentTestId = name;
        done = Promise.resolve()
          .then(before)
          .finally(() => (seen.currentTestId = currentTestId));
        return done;
      },
      { group: name },
    ),
  );
}
let befores = 0;
/** Setup watches the console; here each test does. */
export function beforeEach(before) {
  if (suite.parent !== undefined) suite.before.push(before);
}
export function afterEach() {}
export function afterAll() {}
export const vi = {
  spyOn: () => ({ mockImplementation: () => undefined }),
  restoreAllMocks: () => undefined,
  fn: (f = () => undefined) => f,
};
