declare const URL: new (path: string, base: string | undefined) => { readonly href: string };
declare const __dirname: string | undefined;

/**
 * Where the workers' script lies: beside this file. The expression stands as bundlers know it: they copy the file and put its new place here. In CommonJS there is no
 * `import.meta`.
 */
export function besideThis(): string {
  const { url } = import.meta as { readonly url?: string };
  return url === undefined
    ? `${__dirname}/worker.js`
    : new URL("./worker.js", (import.meta as unknown as { readonly url: string }).url).href;
}

/** A place as worker threads take it: a path, also where it was given as a file's address. */
export function threadPath(place: string): string {
  if (!place.startsWith("file://")) return place;
  return decodeURIComponent(place.slice("file://".length)).replace(/^\/(?=[A-Za-z]:)/, "");
}
