import { type Prepared, prepare } from '../engine/impact/prepare.ts';
import type { Lattice } from '../engine/lattice/index.ts';
import { type Timed, timed } from './clock.ts';
import { doubleShell, latticeOf } from './lattices.ts';
import { plainStep } from './plain-step.ts';
import { checksumOf, type Row } from './row.ts';

const BRANCHES = [
  { ratio: 0.3, timeS: 4e-4 },
  { ratio: 0.3, timeS: 1e-2 },
];
const STEPS = 200;
/** Every strut and node moves, as in a bounce; small, so that both ways compute the same forces. */
const STIR = 20;
