// What no function asked for: wrong types, odd numbers, objects that fight back. Each is made anew for each call.

/** Thrown by the object itself when it is read: the caller's own error, which may come through as it is. */
export class Booby extends Error {}

/** A list that says it is very long and holds nothing of use counts how often it is read: more often than this, and it is read to the end before anybody looks. */
const READS = 100_000;
export class TooManyReads extends Error {}

export function longList(): unknown {
  let reads = 0;
  const count = () => {
    if (++reads > READS) throw new TooManyReads(`read more than ${READS} times`);
  };
  const index = (key: string | symbol): key is string => typeof key === "string" && /^\d+$/.test(key);
  return new Proxy([], {
    get(target, key, receiver) {
      count();
      return key === "length" ? 2 ** 32 - 1 : index(key) ? null : (Reflect.get(target, key, receiver) as unknown);
    },
    has(target, key) {
      count();
      return index(key) || Reflect.has(target, key);
    },
  });
}

const throwing = () => {
  const refuse = () => {
    throw new Booby("not to be read");
  };
  return new Proxy(
    {},
    { get: refuse, has: refuse, ownKeys: refuse, getPrototypeOf: refuse, getOwnPropertyDescriptor: refuse, isExtensible: refuse },
  );
};
const cyclicObject = () => {
  const value: Record<string, unknown> = { a: 1 };
  value["self"] = value;
  return value;
};
const cyclicArray = () => {
  const value: unknown[] = [1];
  value.push(value);
  return value;
};

export const HOSTILE: Readonly<Record<string, () => unknown>> = {
  undefined: () => undefined,
  null: () => null,
  true: () => true,
  "empty text": () => "",
  text: () => "x",
  "a huge number in text": () => "1e999",
  __proto__: () => "__proto__",
  toString: () => "toString",
  "0": () => 0,
  NaN: () => NaN,
  Infinity: () => Infinity,
  "-Infinity": () => -Infinity,
  "1e308": () => 1e308,
  "1e9": () => 1e9,
  "5e-324": () => 5e-324,
  "-1": () => -1,
  "0.5": () => 0.5,
  "an empty array": () => [],
  "an empty object": () => ({}),
  "an array of null": () => [null],
  "an array of NaN": () => [NaN, NaN],
  "an array of objects": () => [{}],
  "a typed array of NaN": () => Float64Array.of(NaN),
  "a sparse array": () => new Array(3),
  "a very long list": longList,
  "an object with a key __proto__": () =>
    JSON.parse('{ "__proto__": { "polluted": true }, "constructor": { "prototype": { "polluted": true } } }') as unknown,
  "an object without prototype": () => Object.create(null) as unknown,
  "an object that throws": throwing,
  "a cyclic object": cyclicObject,
  "a cyclic array": cyclicArray,
  "a function": () => () => undefined,
  "a symbol": () => Symbol("hostile"),
  "a BigInt": () => 10n,
  "a date": () => new Date(NaN),
  "a map": () => new Map(),
};
