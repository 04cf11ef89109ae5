// Pieces of code as the TypeScript compiler sees them, against the library's source: one program for all of them.
import { join, resolve } from "node:path";
import process from "node:process";
import ts from "typescript";

const root = resolve(import.meta.dirname, "../..");

export interface Compiled {
  readonly program: ts.Program;
  /** Milliseconds of the processor that checking the snippets took, parsing and binding excluded. */
  readonly checkTime: number;
  /** By snippet: what the compiler says, each message whole, in the order of the code. */
  readonly messages: Readonly<Record<string, readonly string[]>>;
}

/** Files other than snippets, parsed once for all programs of a process. */
const parsedFiles = new Map<string, ts.SourceFile | undefined>();

/** Compiles snippets, each a module of its own that may import from `dividing-network` and its floors. */
export function compileSnippets(snippets: Readonly<Record<string, string>>, more: ts.CompilerOptions = {}): Compiled {
  const { config } = ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile) as { config: unknown };
  const parsed = ts.parseJsonConfigFileContent(config, ts.sys, root);
  const options: ts.CompilerOptions = {
    ...parsed.options,
    types: [],
    noUnusedLocals: false,
    moduleDetection: ts.ModuleDetectionKind.Force,
    noErrorTruncation: false,
    ...more,
  };
  const files = new Map(
    Object.entries(snippets).map(([name, code]) => [join(root, "tests/types", `snippet-${name}.ts`).replaceAll("\\", "/"), { name, code }]),
  );
  const host = ts.createCompilerHost(options, true);
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (path) => files.has(path) || fileExists.call(host, path);
  host.readFile = (path) => files.get(path)?.code ?? readFile.call(host, path);
  host.getSourceFile = (path, language, ...rest) => {
    const snippet = files.get(path);
    if (snippet !== undefined) return ts.createSourceFile(path, snippet.code, language, true);
    if (!parsedFiles.has(path)) parsedFiles.set(path, getSourceFile.call(host, path, language, ...rest));
    return parsedFiles.get(path);
  };
  const program = ts.createProgram([...files.keys()], options, host);
  program.getTypeChecker();
  const start = process.cpuUsage();
  const messages = [...files].map(([path, { name }]) => {
    const file = program.getSourceFile(path)!;
    const found = [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)];
    return [name, found.map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, "\n"))] as const;
  });
  const { user, system } = process.cpuUsage(start);
  return { program, checkTime: (user + system) / 1000, messages: Object.fromEntries(messages) };
}
