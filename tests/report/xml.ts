// A strict little reader of XML, independent of the code under test: it refuses whatever is not well-formed.

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlElement | string)[];
}

const NAME = "[A-Za-z_][\\w.:-]*";

function decode(text: string): string {
  if (/&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[0-9a-fA-F]+);)/.test(text)) throw new Error(`bare & in ${JSON.stringify(text.slice(0, 60))}`);
  for (const character of text) {
    const code = character.codePointAt(0)!;
    const allowed =
      code === 9 || code === 10 || code === 13 || (code >= 0x20 && code <= 0xd7ff) || (code >= 0xe000 && code <= 0xfffd) || code >= 0x10000;
    if (!allowed) throw new Error(`U+${code.toString(16)} is not allowed in XML`);
  }
  const named: Record<string, string> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };
  return text.replace(/&(#x?)?(\w+);/g, (_, hash: string | undefined, word: string) =>
    hash === undefined ? named[word]! : String.fromCodePoint(parseInt(word, hash === "#x" ? 16 : 10)),
  );
}

/** The root element of a document; throws when it is not well-formed. */
export function parseXml(given: string | { readonly svg: string }): XmlElement {
  const document = typeof given === "string" ? given : given.svg;
  let at = 0;
  const take = (pattern: string): RegExpExecArray | undefined => {
    const regex = new RegExp(pattern, "y");
    regex.lastIndex = at;
    const match = regex.exec(document);
    if (match === null) return undefined;
    at = regex.lastIndex;
    return match;
  };
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${JSON.stringify(document.slice(at, at + 60))}`);
  };

  const element = (): XmlElement => {
    const name = (take(`<(${NAME})`) ?? fail("expected an element"))[1]!;
    const attributes: Record<string, string> = {};
    for (let match = take(`\\s+(${NAME})="([^"<]*)"`); match !== undefined; match = take(`\\s+(${NAME})="([^"<]*)"`)) {
      if (Object.hasOwn(attributes, match[1]!)) fail(`attribute ${match[1]!} twice`);
      attributes[match[1]!] = decode(match[2]!);
    }
    if (take("\\s*/>") !== undefined) return { name, attributes, children: [] };
    if (take("\\s*>") === undefined) fail(`<${name}> is not closed`);
    const children: (XmlElement | string)[] = [];
    while (take(`</${name}>`) === undefined) {
      const text = take("[^<]+");
      if (text !== undefined) children.push(decode(text[0]));
      else children.push(element());
    }
    return { name, attributes, children };
  };

  take("<!DOCTYPE html>\\s*");
  const root = element();
  take("\\s*");
  if (at !== document.length) fail("text after the root element");
  return root;
}

/** All elements below and including one that satisfy a condition, in document order. */
export function findAll(root: XmlElement, condition: (element: XmlElement) => boolean): XmlElement[] {
  const below = root.children.flatMap((child) => (typeof child === "string" ? [] : findAll(child, condition)));
  return condition(root) ? [root, ...below] : below;
}

export const named =
  (name: string) =>
  (element: XmlElement): boolean =>
    element.name === name;

export const withClass =
  (name: string) =>
  (element: XmlElement): boolean =>
    (element.attributes["class"] ?? "").split(" ").includes(name);

/** The text of an element without its markup. */
export function textOf(element: XmlElement): string {
  return element.children.map((child) => (typeof child === "string" ? child : textOf(child))).join("");
}

/** The texts that a plot shows (not its title and description for screen readers). */
export function shownTexts(root: XmlElement): string[] {
  return findAll(root, named("text")).map(textOf);
}

/** The curves of a plot: the strokes within a panel's clip, not leaders or legend samples. */
export function curvesOf(root: XmlElement): XmlElement[] {
  return findAll(root, (element) => element !== root && element.name === "svg").flatMap((clip) =>
    clip.children.filter((child): child is XmlElement => typeof child !== "string" && withClass("dn-curve")(child)),
  );
}

/** The coordinates of path data made of absolute M and L and of dots, one list for each run. */
export function runsOf(data: string): [number, number][][] {
  return data
    .split("M")
    .slice(1)
    .map((run) => {
      const numbers = run.replace("h0", "").split(/[L ]/).map(Number);
      return Array.from({ length: numbers.length / 2 }, (_, i) => [numbers[2 * i]!, numbers[2 * i + 1]!] as [number, number]);
    });
}
