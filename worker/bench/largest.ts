import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { evaluate } from '../engine/index.ts';
import { spreadOf } from './clock.ts';
import { figuresOf } from './evaluation.ts';
import { inputOf } from './inputs.ts';
import { doubleShell } from './lattices.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const MOST_MS = 10_000;
const MOST_MB = 1000;
const RUNS = 3;
/** Tilings of class I with T = 9 to 100, whose time per strut is compared. */
const GROWING = [3, 4, 6, 8, 10];

interface Answer {
  readonly ms: number;
  readonly cpuMs: number;
  readonly peakMb: number;
  readonly checksum: string;
}

/** The largest tiling, T = 400, cold: each run is a process of its own, so that its peak memory is its own too. */
export async function largestRow(): Promise<Row> {
  const answers: Answer[] = [];
  for (let k = 0; k < RUNS; k++) answers.push(await inOwnProcess());
  const spread = spreadOf(answers.map(({ ms }) => ms));
  const peakMb = Math.max(...answers.map((each) => each.peakMb));
  const cpuMs = Math.max(...answers.map((each) => each.cpuMs));
  return {
    ...spread,
    name: 'geometry evaluation, largest, cold',
    input: 'GP(20,0), two layers at 90 and 75 mm, struts 1.0, 0.9 and posts 0.9 mm: 32 000 struts',
    checksum: answers[0].checksum,
    beside: `at most ${shownMs(cpuMs)} of processor time and ${peakMb.toFixed(0)} MB of memory, of the whole process`,
    asked: `less than ${MOST_MS / 1000} s of one core and ${MOST_MB} MB`,
    met: cpuMs < MOST_MS && peakMb < MOST_MB,
  };
}

async function inOwnProcess(): Promise<Answer> {
  const child = fork(fileURLToPath(import.meta.url), ['--alone']);
  const answered = once(child, 'message') as Promise<[Answer]>;
  const ended = once(child, 'exit').then(([code]) => Promise.reject(new Error(`the process of the largest tiling ended with ${code}`)));
  return Promise.race([answered.then(([answer]) => answer), ended]);
}

/** How the time per strut grows with the number of struts. */
export async function growthRow(): Promise<Row> {
  const perStrut: { T: number; us: number }[] = [];
  const numbers: number[] = [];
  for (const m of GROWING) {
    const input = await inputOf(doubleShell(m, 0, [2, 1.8, 1.8]));
    const times = [];
    for (let k = 0; k < 5; k++) {
      const started = performance.now();
      const outcome = evaluate(input);
      times.push(performance.now() - started);
      if (outcome.kind !== 'done') throw new Error(`GP(${m},0) ended as ${outcome.kind}`);
      if (k === 0) numbers.push(...figuresOf(outcome.result));
    }
    perStrut.push({ T: m * m, us: (1000 * spreadOf(times).medianMs) / (80 * m * m) });
  }
  const ms = perStrut.map(({ us, T }) => (us * 80 * T) / 1000);
  return {
    ...spreadOf(ms),
    name: 'geometry evaluation, from T = 9 to T = 100, warm',
    input:
      'GP(m,0), two layers at 90 and 75 mm, struts 2, 1.8 and posts 1.8 mm, m = 3, 4, 6, 8, 10; the times are of the smallest to the largest',
    checksum: checksumOf(numbers),
    beside: `per strut ${perStrut.map(({ T, us }) => `T = ${T}: ${us.toFixed(1)} us`).join(', ')}`,
  };
}

if (process.argv[2] === '--alone') {
  const input = await inputOf(doubleShell(20, 0, [1, 0.9, 0.9]));
  const started = performance.now();
  const outcome = evaluate(input);
  const ms = performance.now() - started;
  if (outcome.kind !== 'done') throw new Error(`the largest tiling ended as ${outcome.kind}`);
  // processor time in microseconds, memory in kilobytes
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  process.send!({
    ms,
    cpuMs: (userCPUTime + systemCPUTime) / 1000,
    peakMb: maxRSS / 1000,
    checksum: checksumOf(figuresOf(outcome.result)),
  } satisfies Answer);
}
