import { env } from "node:process";
import { mergeConfig } from "vitest/config";
import config from "../../vitest.config";

// The tests of what is computed, with fewer cases a property: what the docs and the package hold has no bearing on a number.
// MUTATION_TESTS names the test files that are to run, as patterns parted by commas: the first run of all of them takes minutes.
const include = (env["MUTATION_TESTS"] ?? "tests/**/*.test.ts").split(",");

export default mergeConfig(
  { ...config, test: { ...config.test, include: [] } },
  {
    test: {
      include,
      exclude: ["tests/docs/**", "tests/package/**", "tests/types/**", "tests/demo/**", "**/worker.test.ts", "**/node_modules/**"],
      env: { PROPERTY_SHARE: "0.2" },
    },
  },
);
