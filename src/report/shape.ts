/** What is wrong with a value: where, and what it should be; undefined where nothing is. */
export type Fault = { readonly at: string; readonly should: string } | undefined;

/** What a value must be. */
export type Shape = (value: unknown, at: string) => Fault;

const be =
  (should: string, good: (value: unknown) => boolean): Shape =>
  (value, at) =>
    good(value) ? undefined : { at, should };

export const text = /* @__PURE__ */ be("text", (value) => typeof value === "string");
/** Infinity is one. */
export const number = /* @__PURE__ */ be("a number", (value) => typeof value === "number" && !Number.isNaN(value));
export const flag = /* @__PURE__ */ be("true or false", (value) => typeof value === "boolean");
export const call = /* @__PURE__ */ be("a function", (value) => typeof value === "function");

/** May be absent. */
export const maybe =
  (shape: Shape): Shape =>
  (value, at) =>
    value === undefined ? undefined : shape(value, at);

/** Entries that all have one shape. */
export const list =
  (of: Shape): Shape =>
  (value, at) => {
    if (!Array.isArray(value)) return { at, should: "an array" };
    for (let index = 0; index < value.length; index++) {
      const fault = of(value[index], `${at}[${index}]`);
      if (fault !== undefined) return fault;
    }
    return undefined;
  };

/** Keys that each have their shape; other keys are left alone. */
export const record =
  (keys: Readonly<Record<string, Shape>>): Shape =>
  (value, at) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return { at, should: "an object" };
    for (const [key, shape] of Object.entries(keys)) {
      const fault = shape((value as Record<string, unknown>)[key], at === "" ? key : `${at}.${key}`);
      if (fault !== undefined) return fault;
    }
    return undefined;
  };

/** Any keys, whose values all have one shape. */
export const dictionary =
  (of: Shape): Shape =>
  (value, at) =>
    record(typeof value === "object" && value !== null ? Object.fromEntries(Object.keys(value).map((key) => [key, of])) : {})(value, at);
