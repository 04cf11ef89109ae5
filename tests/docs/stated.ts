// What a trailing comment of an example states, and whether a value agrees with it.

/** A stated value; numbers keep the resolution at which they were printed. */
export type Stated =
  | { readonly kind: "number"; readonly text: string; readonly value: number; readonly half: number }
  | { readonly kind: "bound"; readonly sign: "<" | ">" | "≤" | "≥"; readonly limit: number; readonly text: string }
  | { readonly kind: "complex"; readonly re: Stated; readonly im: Stated }
  | { readonly kind: "word"; readonly value: string | boolean | null | undefined }
  | { readonly kind: "array"; readonly head: readonly Stated[]; readonly tail: readonly Stated[] | undefined }
  | { readonly kind: "object"; readonly entries: readonly (readonly [string, Stated])[] };

const number = /^([-−+]?)(∞|Infinity|\d+(?:\.\d+)?(?:[eE][-−+]?\d+)?)/;
const words: Readonly<Record<string, boolean | null | undefined>> = { true: true, false: false, null: null, undefined: undefined };

class Reader {
  #at = 0;
  constructor(readonly text: string) {}

  get rest(): string {
    return this.text.slice(this.#at);
  }

  take(pattern: RegExp): RegExpMatchArray | undefined {
    const match = this.rest.match(pattern) ?? undefined;
    if (match !== undefined) this.#at += match[0].length;
    return match;
  }

  space(): void {
    this.take(/^\s+/);
  }

  fail(): never {
    throw new Error(`the comment looks like a value but cannot be read as one: ${this.text}`);
  }

  number(): Stated {
    const [text, sign, digits] = this.take(number) ?? this.fail();
    const negative = sign === "-" || sign === "−";
    if (digits === "∞" || digits === "Infinity") return { kind: "number", text, value: negative ? -Infinity : Infinity, half: 0 };
    const [mantissa = "", exponent = "0"] = digits!.replace("−", "-").split(/e/i);
    const decimals = mantissa.includes(".") ? mantissa.length - mantissa.indexOf(".") - 1 : 0;
    const value = Number(`${mantissa}e${exponent}`);
    return { kind: "number", text, value: negative ? -value : value, half: 0.5 * 10 ** (Number(exponent) - decimals) };
  }

  /** `3.2 + 1.5j`, `3.2 - j1.5`, with i for j as well. */
  numberOrComplex(): Stated {
    const re = this.number();
    const sign = this.rest.match(/^\s*([-−+])\s*([ij]?)(?=[\d∞])/);
    if (sign === null) return re;
    const other = new Reader(sign[1]! + this.rest.slice(sign[0].length));
    const im = other.number();
    if (sign[2] === "" && other.take(/^[ij](?![A-Za-z])/) === undefined) return re;
    this.#at = this.text.length - other.rest.length;
    return { kind: "complex", re, im };
  }

  list(close: RegExp, item: () => void): void {
    for (;;) {
      this.space();
      if (this.take(close)) return;
      item();
      this.space();
      if (!this.take(/^,/) && !close.test(this.rest)) this.fail();
    }
  }

  value(): Stated {
    this.space();
    this.take(/^[A-Z]\w*(\(\d+\))?\s*(?=[[{])/); // a constructor's name, as consoles print it: Float64Array(2) [1, 2]
    if (this.take(/^\[/)) {
      const head: Stated[] = [];
      let tail: Stated[] | undefined;
      this.list(/^\]/, () => {
        if (this.take(/^(…|\.\.\.)/)) tail = [];
        else (tail ?? head).push(this.value());
      });
      return { kind: "array", head, tail };
    }
    if (this.take(/^\{/)) {
      const entries: [string, Stated][] = [];
      this.list(/^\}/, () => {
        if (this.take(/^(…|\.\.\.)/)) return;
        const key = this.take(/^(?:([\w$]+)|"([^"]*)")\s*:/) ?? this.fail();
        entries.push([key[1] ?? key[2]!, this.value()]);
      });
      return { kind: "object", entries };
    }
    const double = this.take(/^"(?:[^"\\]|\\.)*"/);
    if (double) return { kind: "word", value: JSON.parse(double[0]) as string };
    const single = this.take(/^'([^'\\]*)'/);
    if (single) return { kind: "word", value: single[1]! };
    const bound = this.take(/^([<>≤≥])\s*(?=[-−+]?[\d∞])/);
    if (bound) {
      const limit = this.number();
      return { kind: "bound", sign: bound[1] as "<", limit: limit.kind === "number" ? limit.value : NaN, text: this.text };
    }
    const word = this.take(/^(true|false|null|undefined)\b/);
    if (word) return { kind: "word", value: words[word[0]] };
    return this.numberOrComplex();
  }
}

/**
 * Reads the text of a trailing comment.
 *
 * @returns what it states, or undefined when it is prose: a value may be followed by a unit or by words, but the words
 * `true`, `false`, `null` and `undefined` only by punctuation
 * @throws Error when the comment begins like a value and goes on in a way that cannot be read
 */
export function parseStated(comment: string): Stated | undefined {
  const text = comment.trim().replace(/^(≈|→|=>|=|about )\s*/, "");
  const beginsLikeValue =
    /^(["'[{]|[-−+]?[\d∞]|[<>≤≥]\s*[-−+]?\d|-?Infinity\b|[A-Z]\w*(\(\d+\))?\s*[[{]|(true|false|null|undefined)\s*($|[,;:(.—–]))/.test(text);
  if (!beginsLikeValue) return undefined;
  const reader = new Reader(text);
  const stated = reader.value();
  // A number that runs on (4R7, 2nd, 1:2, 20–200) is neither a value nor clearly prose: the writer must decide.
  if (!/^($|[\s)%°Ω—]|[,;:.](\s|$))/.test(reader.rest)) reader.fail();
  return stated;
}

/**
 * Compares a value with what was stated about it.
 *
 * @returns undefined when they agree, else a few words on the difference
 */
export function disagreement(stated: Stated, value: unknown, path = ""): string | undefined {
  const at = path === "" ? "" : `${path}: `;
  const got = `${at}got ${print(value)}`;
  switch (stated.kind) {
    case "word":
      return Object.is(value, stated.value) ? undefined : `${got}, stated ${print(stated.value)}`;
    case "bound": {
      const { sign, limit } = stated;
      const holds = typeof value === "number" && { "<": value < limit, ">": value > limit, "≤": value <= limit, "≥": value >= limit }[sign];
      return holds ? undefined : `${got}, stated ${sign} ${limit}`;
    }
    case "number":
      return typeof value === "number" && agrees(stated, value) ? undefined : `${got}, stated ${stated.text}`;
    case "complex": {
      if (typeof value !== "object" || value === null || !("re" in value) || !("im" in value)) return `${got}, stated a complex number`;
      return disagreement(stated.re, value.re, `${path}.re`) ?? disagreement(stated.im, value.im, `${path}.im`);
    }
    case "array": {
      if (!Array.isArray(value) && !(ArrayBuffer.isView(value) && "length" in value)) return `${got}, stated an array`;
      const list = value as ArrayLike<unknown>;
      const tail = stated.tail ?? [];
      const count = stated.head.length + tail.length;
      const exact = stated.tail === undefined;
      if (exact ? list.length !== count : list.length < count)
        return `${at}has length ${list.length}, stated ${count}${exact ? "" : " or more"}`;
      for (const [i, item] of stated.head.entries()) {
        const wrong = disagreement(item, list[i], `${path}[${i}]`);
        if (wrong !== undefined) return wrong;
      }
      for (const [i, item] of tail.entries()) {
        const index = list.length - tail.length + i;
        const wrong = disagreement(item, list[index], `${path}[${index}]`);
        if (wrong !== undefined) return wrong;
      }
      return undefined;
    }
    case "object": {
      if (typeof value !== "object" || value === null) return `${got}, stated an object`;
      for (const [key, item] of stated.entries) {
        if (!(key in value)) return `${at}has no "${key}"`;
        const wrong = disagreement(item, (value as Record<string, unknown>)[key], `${path}.${key}`);
        if (wrong !== undefined) return wrong;
      }
      return undefined;
    }
  }
}

function agrees(stated: Stated & { kind: "number" }, value: number): boolean {
  if (!Number.isFinite(stated.value)) return value === stated.value;
  // A bare 0 would otherwise accept anything up to 0.5.
  if (stated.value === 0 && stated.half >= 0.5) return Math.abs(value) <= 1e-9;
  return Math.abs(value - stated.value) <= stated.half * (1 + 1e-9) + 4 * Number.EPSILON * Math.abs(stated.value);
}

function print(value: unknown): string {
  if (typeof value === "string") return JSON.stringify(value);
  if (ArrayBuffer.isView(value) || Array.isArray(value)) {
    const list = Array.from(value as ArrayLike<unknown>);
    return `[${list.slice(0, 8).map(print).join(", ")}${list.length > 8 ? ", …" : ""}]`;
  }
  if (typeof value === "object" && value !== null) {
    const entries = Object.entries(value)
      .slice(0, 8)
      .map(([key, item]) => `${key}: ${typeof item === "object" ? "…" : print(item)}`);
    return `{ ${entries.join(", ")} }`;
  }
  return String(value);
}
