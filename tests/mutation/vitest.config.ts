import { mergeConfig } from "vitest/config";
import config from "../../vitest.config";

// The tests of what is computed, with fewer cases a property: what the docs and the package hold has no bearing on a number.
export default mergeConfig(config, {
  test: {
    exclude: ["tests/docs/**", "tests/package/**", "tests/types/**", "tests/demo/**", "**/worker.test.ts", "**/node_modules/**"],
    env: { PROPERTY_SHARE: "0.2" },
  },
});
