import type { BounceSetup } from './bounce.ts';
import { bouncer } from './bouncer.ts';
import { type DropHooks, type DropTest, fallen } from './drop.ts';
import { type Dropped, MOST_HALVINGS, prepare, type Unprepared } from './prepare.ts';
import type { Direction } from './turn.ts';

/** Pictures of one bounce at equally spaced times, the first at the touch, nodes and struts in the graph's order. */
export interface Film {
  readonly kind: 'film';
  readonly outcome: 'rebound' | 'no-rebound' | 'bottoms-out' | 'collapsed';
  readonly timesMs: Float64Array;
  /** Places of the nodes for each time, mm, 3 per node: z up from the floor, where the spheres of the lowest nodes touch it. */
  readonly xyz: readonly Float32Array[];
  /** Largest fibre strain of each strut at each time, percent. */
  readonly strainPct: readonly Float32Array[];
  /** Force on the floor, N: the mean over the half millisecond before each time, of which `drop` tells the largest. */
  readonly forceN: Float64Array;
  readonly contactTimeMs: number;
}
export type FilmOutcome = Film | Unprepared | { readonly kind: 'cancelled' };

/** Fewest frames of a bounce that has as many steps, and one more than the most. */
const FRAMES = 60;

/** The bounce of `drop` in one orientation, of the whole lattice, as pictures. */
export function filmDrop(dropped: Dropped, test: Omit<DropTest, 'orientations'>, down: Direction, hooks: DropHooks = {}): FilmOutcome {
  const prepared = prepare(dropped, test.stepS);
  if (prepared.kind !== 'prepared') return prepared;
  const reel = openReel();
  const run = bouncer(prepared, test.stepS === undefined ? MOST_HALVINGS : 0);
  const { end, contactTimeS } = run(fallen(dropped, test, down), { ...hooks, onStep: reel.onStep });
  if (end === 'cancelled') return { kind: 'cancelled' };
  const frames = reel.frames();
  return {
    kind: 'film',
    outcome: end === 'left' ? 'rebound' : end,
    timesMs: Float64Array.from(frames, ({ timeS }) => 1e3 * timeS),
    xyz: frames.map((frame) => frame.xyz),
    strainPct: frames.map((frame) => frame.strainPct),
    forceN: Float64Array.from(frames, ({ forceN }) => forceN),
    contactTimeMs: 1e3 * contactTimeS,
  };
}

interface Frame {
  readonly timeS: number;
  readonly forceN: number;
  readonly xyz: Float32Array;
  readonly strainPct: Float32Array;
}

/** Keeps a picture of every step; when it holds twice FRAMES, every second one, and from then on of half as many steps. How long a bounce takes is not known before. */
function openReel() {
  let kept: Frame[] = [];
  let every = 1;
  return {
    onStep(step: number, setup: BounceSetup, forceN: number): void {
      // A bounce that is done again with half the step starts a new reel.
      if (step === 0) [kept, every] = [[], 1];
      if (step % every !== 0) return;
      kept.push({ timeS: step * setup.stepS, forceN, ...shapeOf(setup) });
      if (kept.length < 2 * FRAMES) return;
      kept = kept.filter((_, k) => k % 2 === 0);
      every *= 2;
    },
    frames: () => kept,
  };
}

function shapeOf({ model: { nodeOf, strutOf }, lattice }: BounceSetup): Pick<Frame, 'xyz' | 'strainPct'> {
  const { positions } = lattice.motion;
  const strains = lattice.strains();
  const xyz = new Float32Array(3 * nodeOf.length);
  const strainPct = new Float32Array(strutOf.length);
  nodeOf.forEach((node, place) => xyz.set(positions.subarray(3 * place, 3 * place + 3), 3 * node));
  strutOf.forEach((strut, place) => (strainPct[strut] = 100 * strains[place]));
  return { xyz, strainPct };
}
