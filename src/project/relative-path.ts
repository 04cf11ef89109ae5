/** What is wrong with a path, or the path without its detours. */
export type PathReading = { readonly path: string; readonly wrong?: undefined } | { readonly wrong: string; readonly hint: string };

/**
 * Reads a path of a project file by its one rule: relative to the project file's folder, forward slashes, within that folder.
 * `./` and `../` are resolved, and refused where they would leave the folder.
 */
export function relativePath(given: string): PathReading {
  const hint = 'Put the file into the project\'s folder or below it and write its relative path, such as "data/woofer.txt"';
  if (given.trim() === "" || given.length > 1000) return { wrong: "a path of 1 to 1000 characters", hint };
  if (/[\u0000-\u001f\u007f]/.test(given)) return { wrong: "a path without control characters", hint };
  if (given.includes("\\")) return { wrong: "a path with forward slashes", hint: "Write / in place of \\" };
  if (given.startsWith("/") || /^[A-Za-z][A-Za-z0-9+.-]*:/.test(given))
    return { wrong: "a relative path, neither absolute nor an address", hint };
  const steps: string[] = [];
  for (const step of given.split("/")) {
    if (step === "" || step === ".") continue;
    if (step !== "..") steps.push(step);
    else if (steps.pop() === undefined) return { wrong: "a path that stays within the project file's folder", hint };
  }
  return steps.length === 0 || given.endsWith("/") ? { wrong: "the path of a file", hint } : { path: steps.join("/") };
}
