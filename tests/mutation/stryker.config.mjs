// What of the source can be changed without a test noticing: `npm run mutation -- --mutate 'src/parts/**/*.ts'`. Takes hours for a
// floor; not part of CI.
export default {
  testRunner: "vitest",
  plugins: ["@stryker-mutator/vitest-runner"],
  vitest: { configFile: "tests/mutation/vitest.config.ts", related: true },
  mutate: ["src/**/*.ts", "!src/**/index.ts", "!src/command-line*.ts"],
  // Words of messages are not what these runs are about: a changed word would need a test for every sentence.
  mutator: { excludedMutations: ["StringLiteral"] },
  coverageAnalysis: "perTest",
  // Mutants of what runs on import count for every test; they say little and take long.
  ignoreStatic: true,
  concurrency: 2,
  timeoutMS: 20_000,
  reporters: ["clear-text", "json"],
  clearTextReporter: { allowColor: false, allowEmojis: false, reportTests: false },
  jsonReporter: { fileName: "coverage/mutation.json" },
  tempDirName: "coverage/mutation-work",
  allowEmpty: false,
};
