// Writes src/network/kernels/generated/ from the table of operations; run by `npm run kernels` after a change of the table.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { generatedFiles } from "../../src/network/kernels/writers";

const folder = join(import.meta.dirname, "../../src/network/kernels/generated");
mkdirSync(folder, { recursive: true });
for (const [name, text] of Object.entries(generatedFiles())) writeFileSync(join(folder, name), text);
