import { DividingNetworkError } from "../errors";
import { besideThis, threadPath } from "./worker-script";

/** Milliseconds between two looks at the signal. */
const WATCH = 25;

/** Workers that were started. */
export interface Crew<Answer> {
  readonly count: number;
  /** Has one of them do something, the one of that number or else one that has least to do; undefined where the signal stopped them first. */
  readonly ask: (method: string, told: readonly unknown[], hand?: number) => Promise<Answer | undefined>;
  /** Ends them all, whatever they do. */
  readonly end: () => Promise<void>;
}

/** How many workers, and from where. */
export interface CrewOptions {
  /** Undefined: one for each core. */
  readonly count: number | undefined;
  readonly most: number;
  readonly script: string | undefined;
  readonly stopped: () => boolean;
}

interface Clock {
  readonly setInterval: (call: () => void, milliseconds: number) => unknown;
  readonly clearInterval: (of: unknown) => void;
}

/** Starts workers: threads in Node, Web Workers elsewhere. Loaded when it is called, so that whoever imports this floor for something else doesn't load the package behind it. */
export async function workers<Answer>(caller: string, { count, most, script, stopped }: CrewOptions): Promise<Crew<Answer>> {
  const library = await import("workerpool");
  const { pool, platform } = library;
  const cores: unknown = library.cpus;
  const many = count ?? Math.max(1, Math.min(most, Number(cores) || 1));
  const place = script ?? besideThis();
  const inNode = platform === "node";
  // A pool for each, so that work can go to whoever has done the like of it.
  const crew = Array.from({ length: many }, () => {
    const own = pool(inNode ? threadPath(place) : place, {
      maxWorkers: 1,
      workerType: inNode ? "thread" : "web",
      ...(inNode ? {} : { workerOpts: { type: "module" } }),
    });
    return { pool: own, busy: 0 };
  });
  const { setInterval: often, clearInterval: enough } = globalThis as unknown as Clock;
  const watch = often(() => {
    if (stopped()) void end();
  }, WATCH);
  const end = async (): Promise<void> => {
    enough(watch);
    await Promise.all(crew.map(({ pool: own }) => own.terminate(true)));
  };
  return {
    count: many,
    ask: (method, told, hand) =>
      new Promise((resolve, reject) => {
        const own = hand === undefined ? crew.reduce((idlest, each) => (each.busy < idlest.busy ? each : idlest)) : crew[hand]!;
        const broken = (error: unknown) => {
          own.busy--;
          if (stopped()) resolve(undefined);
          else reject(failure(caller, error));
        };
        own.busy++;
        try {
          own.pool.exec(method, [...told]).then((answer: unknown) => {
            own.busy--;
            resolve(answer as Answer);
          }, broken);
        } catch (error) {
          // A path that can't be one is refused before anything is started.
          broken(error);
        }
      }),
    end,
  };
}

function saying(error: unknown): string {
  const { message } = Object(error) as { readonly message?: unknown };
  return typeof message === "string" && message !== "" ? message : "no reason given";
}

function failure(caller: string, error: unknown): DividingNetworkError {
  return new DividingNetworkError(
    "worker-failed",
    `${caller}: a worker could not be started, or broke off: ${saying(error)}`,
    "Under a bundler give workerScript, the address of dividing-network/cores/worker.js; redesign() does the same without workers",
  );
}

/** A copy as a worker gets it; what can't be sent is refused here, since nobody hears of it where it is sent. */
export function sendable<T>(caller: string, data: T): T {
  const { structuredClone: copied } = globalThis as unknown as { readonly structuredClone: (data: T) => T };
  try {
    return copied(data);
  } catch (error) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "loudspeaker" and options must be data that can be sent to a worker: ${saying(error)}`,
      "Parts with functions in them can't: redesign() takes them, on one core",
    );
  }
}
