const node = /* @__PURE__ */ Symbol.for("nodejs.util.inspect.custom");
const deno = /* @__PURE__ */ Symbol.for("Deno.customInspect");
const notebook = /* @__PURE__ */ Symbol.for("Jupyter.display");

/** How a value shows itself to people. */
export interface Views<T> {
  /** For the terminal: a few lines, the first of which names the kind of value. */
  readonly text: (value: T) => string;
  /** For notebooks, as Markdown; absent: a notebook prints the text, as a terminal does. */
  readonly markdown?: (value: T) => string;
}

/**
 * Makes a value show itself: `console.log` prints its text, alone and inside of other values, and a notebook its Markdown. What
 * does so is hidden, so that keys, spreads, JSON, clones and comparisons see the same value as before; a copy no longer has it.
 * Node and Bun ask under one symbol, Deno under another. Control characters are replaced, so that a name cannot steer a terminal.
 *
 * @param value not yet frozen
 * @param views `text`, and `markdown` where a notebook can show more
 * @returns the same value, to be frozen by the caller
 */
export function shown<T extends object>(value: T, views: Views<T>): T {
  return Object.defineProperties(value, propertiesOf(views as unknown as Views<object>));
}

/** One set of functions for all values of a kind, which ask by `this`: thousands of responses cost no closure each. */
const known = /* @__PURE__ */ new WeakMap<Views<object>, PropertyDescriptorMap>();

function propertiesOf(views: Views<object>): PropertyDescriptorMap {
  let properties = known.get(views);
  if (properties === undefined) {
    const { text, markdown } = views;
    const print = {
      value: function (this: object): string {
        return harmless(text(this));
      },
    };
    const display = {
      value: function (this: object) {
        return { "text/markdown": markdown?.(this), "text/plain": harmless(text(this)) };
      },
    };
    known.set(
      views,
      (properties = markdown === undefined ? { [node]: print, [deno]: print } : { [node]: print, [deno]: print, [notebook]: display }),
    );
  }
  return properties;
}

/** Text that cannot steer a terminal; line breaks stay. */
function harmless(text: string): string {
  return text.replace(/(?!\n)[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/gu, "\uFFFD");
}

/**
 * A list of names as people print it: on one line, separated by commas, and cut where it is long.
 *
 * @param names any texts
 * @param most how many are printed, dimensionless; 12 when absent
 * @returns text on one line; `"none"` for no names
 */
export function listed(names: readonly string[], most = 12): string {
  if (names.length === 0) return "none";
  const kept = names.slice(0, most).map((name) => (name.length > 60 ? `${name.slice(0, 59)}…` : name).replace(/[\r\n\u2028\u2029]+/g, " "));
  return names.length > most ? `${kept.join(", ")} and ${names.length - most} more` : kept.join(", ");
}
