import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** The key under which a piece of markup keeps its text. */
export const MARKUP: unique symbol = /* @__PURE__ */ Symbol("markup");

/** All markup there is: what isn't in here was made elsewhere, whatever it looks like. */
const made = /* @__PURE__ */ new WeakSet<object>();

/**
 * A piece of HTML or SVG made by the builders of this folder, in which every text was escaped. It cannot be written as
 * an object literal, copied or come out of a JSON file, so text from outside never becomes markup.
 */
export interface Markup {
  /** The text of the page; only the library makes such values. */
  readonly [MARKUP]: string;
}

/** What a builder takes as content: text, which it escapes, or markup made by another builder. */
export type Content = string | number | Markup;

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/**
 * Escapes text for use between tags and inside quoted attributes of HTML, XML and SVG. Characters that XML forbids
 * (control characters, lone surrogates, noncharacters) become U+FFFD.
 */
export function escapeText(text: string): string {
  return text
    .replace(/(?![\t\n\r])[\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}]/gu, "\uFFFD")
    .replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}

/** Text that is already markup. Only for text that this folder wrote itself; everything else goes through `element`. */
export function trusted(text: string): Markup {
  return registered(Object.freeze({ [MARKUP]: text }));
}

/** Counts an object as markup; its text must have been written by this folder. */
export function registered<T extends Markup>(markup: T): T {
  made.add(markup);
  return markup;
}

/** Whether a value is markup made by the builders. */
export function isMarkup(value: unknown): value is Markup {
  return typeof value === "object" && value !== null && made.has(value);
}

/** The text of one piece of content, escaped unless it is markup. */
export function textOf(content: Content): string {
  if (isMarkup(content)) return content[MARKUP];
  if (typeof content === "string") return escapeText(content);
  if (typeof content === "number" && !Number.isNaN(content)) return numberText(content, "−");
  throw new DividingNetworkError(
    "invalid-argument",
    `report: content must be text, a number or markup made by the builders, got ${show(content)}`,
  );
}

/** A number for people: no "-0", infinities as signs, the minus sign of the medium. */
export function numberText(value: number, minus: "−" | "-"): string {
  const size = Math.abs(value);
  return `${value < 0 ? minus : ""}${size === Infinity ? "∞" : String(size)}`;
}

/** Attributes of an element; those that are `undefined` are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/**
 * One element, with attributes and text escaped; without content it closes itself, which suits SVG and the void
 * elements of HTML.
 */
export function element(name: string, attributes: Attributes, ...content: readonly (Content | readonly Content[])[]): Markup {
  let open = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined) open += ` ${key}="${typeof value === "number" ? pixels(value) : escapeText(value)}"`;
  }
  return trusted(content.length === 0 ? `${open}/>` : `${open}>${textsOf(content)}</${name}>`);
}

/** Several pieces of content as one. */
export function fragment(...content: readonly (Content | readonly Content[])[]): Markup {
  return trusted(textsOf(content));
}

function textsOf(content: readonly (Content | readonly Content[])[]): string {
  return content
    .map((piece) => (Array.isArray(piece) ? (piece as readonly Content[]).map(textOf).join("") : textOf(piece as Content)))
    .join("");
}

/** A coordinate rounded to 0.01 px, as short as it can be written. */
export function pixels(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** Checks that an argument is text and returns it. */
export function checkText(caller: string, argument: string, value: unknown): string {
  if (typeof value !== "string")
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be text, got ${show(value)}`);
  return value;
}
