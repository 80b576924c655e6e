import { type Probes, type Response, responseThrough, type VersionResponse } from './calibration/index.ts';
import { G_MM3_PER_G_CM3 } from './figures.ts';
import { framedAt, unitFrame } from './framed.ts';
import { outsideDiameterOf } from './geometry.ts';
import { orientationsOf } from './impact/index.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import { grown, type Lattice, type ParameterSet } from './lattice/index.ts';
import { materialAt } from './material-at.ts';
import type { EngineError, MechanicsInput } from './mechanics.ts';
import { reboundOf, settleDrop } from './rebound.ts';
import { integrateUnion, meanWidth, unionSurface } from './solid/index.ts';
import { squeeze } from './squeeze.ts';

/** How a version was tested; null: not measured, so not computed. */
export interface TestConditions {
  readonly secantAtPct: number | null;
  readonly dropHeightMm: number | null;
}
export interface ResponseHooks {
  isCancelled(): boolean;
  /** Share of the work done, 0 to 1. */
  onProgress(share: number): void;
}
type Material = MechanicsInput['material'];

/** Measured slowly. */
const SLOW = ['stiffnessNPerMm', 'initialNPerMm'];

/** Change of the mean diameter for the slopes, and of the logarithms of factors. */
const GROWTH_SHARE = 0.05;
const FACTOR_STEP = 0.1;
/** Bounces differ little between orientations, slopes of them less: the values are the mean of as many as a usual drop has. */
const ORIENTATIONS = 3;
const SEED = 1;

/** ln of each quantity. */
type Logs = Readonly<Record<string, number>>;
interface Asked {
  readonly growth: { readonly inLayer: number; readonly upright: number };
  readonly ln: { readonly density: number; readonly modulus: number; readonly loss: number; readonly joint: number };
  /** What this point changes; the rest is known from the design. */
  readonly squeezes: boolean;
  readonly drops: boolean;
}

/**
 * How mass, size, stiffness and bounce of a version follow what printing does to it: the engine at a few points close to the design, about ten drops and five
 * compressions. Stiffness goes exactly with the modulus of slow loading, mass with density. What the record says of growth and joints is left out: the
 * unknowns say it anew.
 */
export function versionResponse(
  parameterSet: ParameterSet,
  material: Material,
  conditions: TestConditions,
  hooks: ResponseHooks,
): { kind: 'response'; response: VersionResponse } | { kind: 'fault'; fault: EngineError } {
  const { tiling } = tilingOf(parameterSet);
  const laid = latticeOf(parameterSet, tiling);
  if (laid.kind === 'fault') return laid;
  const { diameters } = laid.lattice.graph;
  const strutDiameterMm = diameters.reduce((sum, d) => sum + d, 0) / diameters.length;
  const growthMm = GROWTH_SHARE * strutDiameterMm;
  const ask = asker(laid.lattice, tiling.symmetry.rotations, material, conditions, hooks.isCancelled);
  const both = (mm: number) => ({ inLayer: mm, upright: mm });
  const points = [
    at({}),
    at({ growth: both(growthMm) }),
    at({ growth: both(-growthMm) }),
    at({ growth: { inLayer: growthMm, upright: 0 } }),
    at({ joint: FACTOR_STEP }),
    at({ density: FACTOR_STEP }, 'drops'),
    at({ modulus: FACTOR_STEP }, 'drops'),
    at({ loss: FACTOR_STEP * 2 }, 'drops'),
    at({ loss: -FACTOR_STEP * 2 }, 'drops'),
  ];
  const found: Logs[] = [];
  for (const [k, point] of points.entries()) {
    const answer = ask(point);
    if (answer.kind === 'fault') return answer;
    found.push({ ...found[0], ...answer.logs });
    hooks.onProgress((k + 1) / points.length);
  }
  const quantities = Object.fromEntries(
    Object.keys(found[0]).map((name) => [name, throughPoints(name, found, { growthMm, strutDiameterMm })]),
  );
  return { kind: 'response', response: { strutDiameterMm, quantities } };
}

function at(change: Partial<Asked['ln']> & { growth?: Asked['growth'] }, only?: 'drops'): Asked {
  const { growth = { inLayer: 0, upright: 0 }, ...ln } = change;
  return { growth, ln: { density: 0, modulus: 0, loss: 0, joint: 0, ...ln }, squeezes: only === undefined, drops: true };
}

function throughPoints(name: string, found: readonly Logs[], sizes: Pick<Probes, 'growthMm' | 'strutDiameterMm'>): Response {
  const [asDesigned, thicker, thinner, inLayer, joint, density, modulus, more, less] = found.map((logs) => logs[name]);
  const loss = 2 * FACTOR_STEP;
  const slopeOf = (value: number) => (value - asDesigned) / FACTOR_STEP;
  const others: Probes['others'] = [name === 'massG' ? 1 : slopeOf(density), slopeOf(modulus), (more - less) / (2 * loss), slopeOf(joint)];
  const lossCurvature = (more + less - 2 * asDesigned) / (loss * loss);
  return responseThrough({ ...sizes, asDesigned, thicker, thinner, inLayer, others, lossCurvature });
}

/** Asks the engine for the logarithms of all quantities that are measured, at one point. */
function asker(
  lattice: Lattice,
  rotations: Float64Array,
  record: Material,
  { secantAtPct, dropHeightMm }: TestConditions,
  isCancelled: () => boolean,
) {
  const drop = settleDrop({ orientations: ORIENTATIONS, seed: SEED, ...(dropHeightMm !== null && { heightMm: dropHeightMm }) }, null);
  const orientations = orientationsOf(lattice, rotations, drop.orientations, drop.seed);
  const designedMm = outsideDiameterOf(lattice);
  let designed: Record<string, number | null | undefined> | null = null;
  return ({ growth, ln, squeezes, drops }: Asked): { kind: 'logs'; logs: Logs } | { kind: 'fault'; fault: EngineError } => {
    const printed = grown(lattice, growth, rotations);
    const volume = integrateUnion(printed.graph, unionSurface(printed.graph), printed.symmetry).moments[0];
    const massG = volume * record.densityGCm3 * Math.exp(ln.density) * G_MM3_PER_G_CM3;
    const values: Record<string, number | null | undefined> = {
      massG,
      outsideDiameterMm: outsideDiameterOf(printed),
      circumferenceMm: Math.PI * meanWidth(printed.graph, printed.nodesPerLayer),
    };
    const material = materialAt(shifted(record, ln), undefined);
    if (material.kind === 'refused') return { kind: 'fault', fault: { code: material.code, message: material.message } };
    const unit =
      secantAtPct !== null || dropHeightMm !== null ? unitFrame(printed.graph, record.poisson, { jointFactor: Math.exp(ln.joint) }) : null;
    const frameFor = (modulusMPa: number) => framedAt(unit!, modulusMPa, record.directionFactors ?? null);
    if (secantAtPct !== null && squeezes) {
      const test = { toPctOfDiameter: secantAtPct, secantAtPct };
      const part = { lattice: printed, rotations, frame: frameFor(material.quasiStaticMPa), material, outsideDiameterMm: designedMm, test };
      const { stiffness, error } = squeeze(part, { isCancelled });
      if (error) return { kind: 'fault', fault: error };
      values.stiffnessNPerMm = stiffness?.secantNPerMm;
      values.initialNPerMm = stiffness?.initialNPerMm;
    } else if (secantAtPct !== null && designed) {
      // nothing but the modulus of slow loading is new
      for (const name of SLOW) values[name] = designed[name] && (designed[name] * material.quasiStaticMPa) / designed.quasiStaticMPa!;
    }
    designed ??= { ...values, quasiStaticMPa: material.quasiStaticMPa };
    if (dropHeightMm !== null && drops) {
      const frame = frameFor(material.relaxation.longTermMPa);
      const { rebound, error } = reboundOf({ frame, massG, material, orientations, conditions: drop, rotations }, { isCancelled });
      if (error) return { kind: 'fault', fault: error };
      values.restitution = rebound?.restitution?.mean;
      values.contactTimeMs = rebound?.contactTimeMs;
      values.peakForceN = rebound?.peakForceN;
    }
    const known = Object.entries(values).flatMap(([name, value]) => (value ? [[name, Math.log(value)] as const] : []));
    return { kind: 'logs', logs: Object.fromEntries(known) };
  };
}

/** A material with factors on it; what the record says of direction stays. */
function shifted(record: Material, ln: Asked['ln']): Material {
  const stiffer = Math.exp(ln.modulus);
  const lossier = Math.exp(ln.loss);
  return {
    ...record,
    modulusMPa: record.modulusMPa * stiffer,
    quasiStaticModulusMPa: record.quasiStaticModulusMPa === null ? null : record.quasiStaticModulusMPa * stiffer,
    ...(record.lossFactor != null && { lossFactor: record.lossFactor * lossier }),
  };
}
