import { show } from "../errors/internal";
import { REFERENCE_PRESSURE } from "../physics";
import { readResponseText, type FrequencyResponse } from "../response";
import type { PlannedFile } from "./file-plan";
import type { Trouble } from "./trouble";

/** How many files are asked for at the same time. */
const together = 8;

/** A planned file with what stands in it: pressures in Pa, impedances in Ω. */
export interface ReadFile {
  readonly planned: PlannedFile;
  readonly response: FrequencyResponse;
  readonly notes: readonly string[];
}

/** Reads all planned files, each path once; what can't be read is added to the troubles and left out. */
export async function readFiles(
  plan: readonly PlannedFile[],
  readFile: (relativePath: string) => Promise<string>,
  trouble: Trouble,
): Promise<readonly ReadFile[]> {
  const byPath = new Map<string, PlannedFile[]>();
  for (const planned of plan) byPath.set(planned.path, [...(byPath.get(planned.path) ?? []), planned]);
  const found = new Map<PlannedFile, ReadFile>();
  const paths = [...byPath.values()];
  for (let first = 0; first < paths.length; first += together) {
    await Promise.all(
      paths.slice(first, first + together).map(async (users) => {
        const text = await textOf(users[0]!, readFile, trouble);
        if (text === undefined) return;
        for (const planned of users) {
          const { columns, path } = planned;
          const inDb = columns === "db" || columns === "db-degrees";
          const read = trouble.attempt(planned, () =>
            readResponseText(text, { columns, file: path, ...(inDb ? { reference: REFERENCE_PRESSURE } : {}) }),
          );
          if (read === undefined) continue;
          found.set(planned, { planned, ...read });
        }
      }),
    );
  }
  return shareGrids(plan.flatMap((planned) => found.get(planned) ?? []));
}

async function textOf(
  planned: PlannedFile,
  readFile: (relativePath: string) => Promise<string>,
  trouble: Trouble,
): Promise<string | undefined> {
  let text: unknown;
  try {
    text = await readFile(planned.path);
  } catch (error) {
    const { code, message } = (typeof error === "object" && error !== null ? error : {}) as {
      readonly code?: unknown;
      readonly message?: unknown;
    };
    const reason = typeof message === "string" ? message.split(/[\r\n]/)[0]!.slice(0, 150) : show(error);
    trouble.add(
      planned,
      code === "ENOENT" ? "missing-file" : "unreadable-file",
      `the file must be there and readable, got: ${reason}`,
      "Put it there, or correct the path, which is relative to the project file; capitals count",
    );
    return undefined;
  }
  if (typeof text === "string") return text;
  trouble.add(
    planned,
    "unreadable-file",
    `"readFile" must give the file's text, got ${show(text)}`,
    "Decode the bytes, as UTF-8 for instance",
  );
  return undefined;
}

/** Files on equal frequencies share one array, so that later steps see one grid. */
function shareGrids(files: readonly ReadFile[]): readonly ReadFile[] {
  const grids = new Map<string, Float64Array[]>();
  return files.map((file) => {
    const { frequencies, re, im, marks = [] } = file.response;
    const key = `${frequencies.length},${frequencies[0]},${frequencies.at(-1)}`;
    const known = grids.get(key) ?? [];
    const shared = known.find((grid) => grid.every((frequency, index) => frequency === frequencies[index]));
    if (shared === undefined) grids.set(key, [...known, frequencies]);
    return shared === undefined
      ? file
      : { ...file, response: Object.freeze({ frequencies: shared, re, im, ...(marks.length === 0 ? {} : { marks }) }) };
  });
}
