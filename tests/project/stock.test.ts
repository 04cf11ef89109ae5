import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network";
import { parseProject, readProject, writeProject } from "dividing-network/project";
import { projectData, projectFiles } from "../support/fixture";

const read = (stock: unknown, files: Record<string, unknown>) =>
  readProject(JSON.stringify({ ...projectData(), stock }), {
    file: "box.json",
    readFile: async (path) => {
      const own: Record<string, unknown> = { ...projectFiles(), ...files };
      if (!(path in own)) throw Object.assign(new Error(`no such file: ${path}`), { code: "ENOENT" });
      return own[path] as string;
    },
  });
const refusal = async (call: Promise<unknown>): Promise<DividingNetworkError> =>
  call.then(
    () => Promise.reject(new Error("nothing was refused")),
    (error: DividingNetworkError) => error,
  );

describe("the stock of a project", () => {
  it("is read from a table or from JSON beside the project, and is absent where none is named", async () => {
    const table = await read("parts/drawer.csv", { "parts/drawer.csv": "kind;value;price\nresistor;4,7 Ω;0,80\n" });
    expect(table.stock!.parts[0]).toMatchObject({ part: { resistance: 4.7 }, price: 0.8 });
    const json = await read("drawer.json", { "drawer.json": JSON.stringify([{ kind: "inductor", value: "0.47 mH", dcr: "0.24 Ω" }]) });
    expect(json.stock!.parts[0]!.part).toMatchObject({ inductance: 0.00047, dcr: 0.24 });
    expect((await read(undefined, {})).stock).toBeUndefined();
  });

  it("is refused with the file and the line where it can't be read", async () => {
    expect(await refusal(read("drawer.csv", {}))).toMatchObject({ code: "missing-file" });
    expect((await refusal(read("drawer.csv", { "drawer.csv": "kind,value\nresistor,x\n" }))).message).toContain("drawer.csv:2");
    expect(await refusal(read("drawer.csv", { "drawer.csv": 7 }))).toMatchObject({ code: "unreadable-file" });
    expect(await refusal(read("drawer.json", { "drawer.json": "{}" }))).toMatchObject({ code: "invalid-stock" });
    expect(await refusal(read("drawer.json", { "drawer.json": "[{}" }))).toMatchObject({ code: "invalid-json" });
    expect(await refusal(read("drawer.json", { "drawer.json": "[{}]" }))).toMatchObject({ code: "invalid-argument" });
    expect(await refusal(read("../drawer.csv", {}))).toMatchObject({ code: "invalid-project" });
  });

  it("keeps its name when the project is written", () => {
    const project = parseProject(JSON.stringify({ ...projectData(), stock: "drawer.csv" }));
    expect(parseProject(writeProject(project)).stock).toBe("drawer.csv");
  });
});
