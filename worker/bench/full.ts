import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { evaluate } from '../engine/index.ts';
import { spreadOf } from './clock.ts';
import { figuresOf } from './evaluation.ts';
import { inputOf, TRAINING_BALL } from './inputs.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const MOST_MS = 8_000;
const AIM_MS = 4_000;
const MOST_MB = 400;
const RUNS = 3;

interface Answer {
  readonly ms: number;
  readonly cpuMs: number;
  readonly peakMb: number;
  readonly checksum: string;
  /** Time by the clock from the start of each stage to that of the next. */
  readonly stageMs: Record<string, number>;
  /** Longest processor time between two looks for cancellation, by stage. */
  readonly blindMs: Record<string, number>;
}

/** A full evaluation of the training ball as a worker does it first: each run is a process of its own, so that its peak memory is its own too. */
export async function fullRow(): Promise<Row> {
  const answers: Answer[] = [];
  for (let k = 0; k < RUNS; k++) answers.push(await inOwnProcess());
  const cpuMs = Math.min(...answers.map((each) => each.cpuMs));
  const peakMb = Math.max(...answers.map((each) => each.peakMb));
  const stages = Object.keys(answers[0].stageMs).map(
    (stage) => `${stage} ${shownMs(Math.min(...answers.map((each) => each.stageMs[stage])))}`,
  );
  const blind = Object.keys(answers[0].blindMs)
    .map((stage) => ({ stage, ms: Math.min(...answers.map(({ blindMs }) => blindMs[stage])) }))
    .sort((a, b) => b.ms - a.ms)
    .slice(0, 3);
  return {
    ...spreadOf(answers.map(({ ms }) => ms)),
    name: 'full evaluation, cold',
    input: 'training ball GP(3,3): compression to 15 %, ten frequencies, dropped from 1800 mm in six orientations',
    checksum: answers[0].checksum,
    beside: `at least ${shownMs(cpuMs)} of processor time, at most ${peakMb.toFixed(0)} MB of the whole process; ${stages.join(', ')}; longest between two looks for cancellation: ${blind.map(({ stage, ms }) => `${shownMs(ms)} in ${stage}`).join(', ')}`,
    asked: `less than ${MOST_MS / 1000} s of one core (${AIM_MS / 1000} s is the aim) and ${MOST_MB} MB`,
    met: cpuMs < MOST_MS && peakMb < MOST_MB,
  };
}

function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

async function inOwnProcess(): Promise<Answer> {
  const child = fork(fileURLToPath(import.meta.url), ['--full-alone']);
  const answered = once(child, 'message') as Promise<[Answer]>;
  const ended = once(child, 'exit').then(([code]) => Promise.reject(new Error(`the process of the full evaluation ended with ${code}`)));
  return Promise.race([answered.then(([answer]) => answer), ended]);
}

if (process.argv[2] === '--full-alone') {
  const input = { ...(await inputOf(TRAINING_BALL)), tests: { depth: 'full' as const } };
  const marks = new Map<string, number>();
  const started = performance.now();
  const blindMs: Record<string, number> = {};
  let [stage, looked] = ['', processorMs()];
  const look = () => {
    const now = processorMs();
    blindMs[stage] = Math.max(blindMs[stage] ?? 0, now - looked);
    looked = now;
    return false;
  };
  const enter = (entered: string) => {
    stage = entered;
    if (!marks.has(stage)) marks.set(stage, performance.now());
  };
  const outcome = evaluate(input, { onStage: enter, isCancelled: look });
  const ended = performance.now();
  if (outcome.kind !== 'done') throw new Error(`the full evaluation ended as ${outcome.kind}`);
  const { rebound, stiffness } = outcome.result;
  const times = [...marks, ['', ended] as const];
  // processor time in microseconds, memory in kilobytes
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  process.send!({
    ms: ended - started,
    cpuMs: (userCPUTime + systemCPUTime) / 1000,
    peakMb: maxRSS / 1000,
    checksum: checksumOf([...figuresOf(outcome.result), rebound?.reboundHeightMm?.mean ?? 0, stiffness?.secantNPerMm ?? 0]),
    blindMs,
    stageMs: Object.fromEntries(times.slice(0, -1).map(([stage, at], k) => [stage, times[k + 1][1] - at])),
  } satisfies Answer);
}
