import { mergeConfig } from "vitest/config";
import config from "../vitest.config";

// What can be run after every few lines: the numbers, with a fifth of the cases of every property; neither the documentation nor the package, nor what searches, simulates or starts workers, nor the longest files.
export default mergeConfig(
  { ...config, test: { ...config.test, include: [] } },
  {
    test: {
      include: ["tests/**/*.test.ts"],
      exclude: [
        "tests/docs/**",
        "tests/package/**",
        "tests/types/**",
        "tests/demo/**",
        "tests/cores/**",
        "tests/design/**",
        "tests/properties/**",
        "tests/assessment/**",
        "tests/report/**",
        "**/worker.test.ts",
        "**/simulator-oracle.test.ts",
        "**/hostile-input.test.ts",
        // The longest: `npx vitest run tests/parts` runs those of its floor.
        "**/coupling-from-placement.test.ts",
        "**/driver-parameters*.test.ts",
        "**/exactness.test.ts",
        "**/extended-sources.test.ts",
        "**/fit-time-zero.test.ts",
        "**/ladder-accuracy.test.ts",
        "**/least-coupling.test.ts",
        "tests/network/spice/**",
        "tests/parts/stock/**",
        "**/node_modules/**",
      ],
      env: { PROPERTY_SHARE: "0.2" },
    },
  },
);
