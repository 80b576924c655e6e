import { fitsBuildVolume, layerAreaJump, orientationEffect } from './build-checks.ts';
import type { Check, CheckInput } from './check.ts';
import { jointCrowding, strutSlenderness } from './joint-checks.ts';
import { bounceStrain, buckling, peakForce } from './mechanics-checks.ts';
import { escapeOpening, minGap, minStrutDiameter } from './powder-checks.ts';
import { fingerEntrapment, fingerEntrapmentDeformed, smallPart } from './safety-checks.ts';
import type { Printability } from './types.ts';

/** All checks, in the order they are reported. A new check is a function in one of the files above and a line here. */
const CHECKS: readonly Check[] = [
  minStrutDiameter,
  minGap,
  escapeOpening,
  strutSlenderness,
  jointCrowding,
  fingerEntrapment,
  fingerEntrapmentDeformed,
  smallPart,
  fitsBuildVolume,
  layerAreaJump,
  orientationEffect,
  peakForce,
  bounceStrain,
  buckling,
];

/** Runs every check. The verdict is the worst status found; what was not checked does not count, and is never a pass. */
export function printability(input: CheckInput): Printability {
  const checks = CHECKS.map((check) => check(input));
  const found = (status: string) => checks.some((check) => check.status === status);
  return { verdict: found('fail') ? 'fail' : found('warn') ? 'warn' : 'pass', checks };
}
