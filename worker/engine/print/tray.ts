import { buildLayers } from './build-layers.ts';
import { countOf, secondsByLayer, timeOfLayers } from './build-time.ts';
import { builtDiameterMm, clearSizeMm, shrinkageScale } from './chamber.ts';
import { expenseAssumptions, expenseOf } from './cost.ts';
import type { Poll, Room } from './lowest-first.ts';
import { packInOrder } from './pack-in-order.ts';
import { volumeOf } from './profile-figures.ts';
import { shown } from './sentence.ts';
import { trayFault } from './tray-fault.ts';
import type { TrayCost, TrayOutcome, TrayPart, TrayPartResult, TrayPlacement } from './tray-types.ts';
import type { BuildVolume, PrintMaterial } from './types.ts';

/**
 * Plans one build of different parts: each copy stands as its circumscribed sphere with shrinkage compensation, kept partSpacingMm from the
 * others and within the clear room, in the lowest of the constructions of packSpheres. Where not all find room, a first copy of every part comes
 * before any second one, and what is left over is listed. Time and powder are those of the whole build, shared by sintered volume. Faults: `refused-tray` (an empty list, a
 * count, an id or mark used twice, too many copies), `currency-mismatch`. `poll` is called every few milliseconds, and may throw.
 */
export function planTray(parts: readonly TrayPart[], volume: BuildVolume, material: PrintMaterial, poll?: Poll): TrayOutcome {
  const refused = trayFault(parts);
  if (refused) return { kind: 'fault', fault: refused };
  const copies = inTurns(parts);
  const { placements, words } = place(copies, volume, material, poll);
  const placed = parts.map((part) => placements.filter(({ id }) => id === part.id));
  const standing = parts.map(({ profile }, i) => ({ profile, heightsMm: Float64Array.from(placed[i], ({ centreMm }) => centreMm[2]) }));
  const layers = buildLayers(standing, material, volume);
  const estimate = timeOfLayers(layers, { partsPerBuild: countOf(standing), arrangement: words }, volume);
  const build = { ...estimate, assumptions: [sphereSentence(volume), ...estimate.assumptions] };

  const sinteredG = parts.reduce((sum, { massG }, i) => sum + massG * placed[i].length, 0);
  const outcome = expenseOf(build, sinteredG, material, volume);
  if (outcome.kind === 'fault') return outcome;
  const { powderKg, virginKg, powder, machine, currency } = outcome.expense;
  const money = (amount: number) => ({ amount, currency });
  const cost: TrayCost = {
    powderKgPerBuild: powderKg,
    virginPowderKgPerBuild: virginKg,
    powderCost: money(powder),
    machineCost: money(machine),
    total: money(powder + machine),
    assumptions: [SHARED, ...expenseAssumptions(material, volume)],
  };
  const results = partResults(parts, placed, cost, material);
  const fits = results.every(({ left }) => left === 0);
  const empty = placements.length === 0;
  return {
    kind: 'done',
    tray: { fits, parts: results, placements, leastGapMm: leastGapMm(placements), build, cost: empty ? null : cost },
    layers: { ...layers, seconds: secondsByLayer(layers, volume) },
  };
}

const SHARED = 'Parts share powder and machine hours by their sintered volume, whatever room or height they take.';
const sphereSentence = ({ partSpacingMm }: BuildVolume) =>
  `Every part stands as its circumscribed sphere with shrinkage compensation, at least ${shown(partSpacingMm)} mm from the next.`;

/** First copies of all parts, then second ones, ... */
function inTurns(parts: readonly TrayPart[]): TrayPart[] {
  const turns = Array.from({ length: Math.max(...parts.map(({ count }) => count)) }, (_, turn) => turn);
  return turns.flatMap((turn) => parts.filter(({ count }) => count > turn));
}

/** Packs the copies; half the spacing goes to each sphere, and the room grows by as much on every side. */
function place(copies: readonly TrayPart[], volume: BuildVolume, material: PrintMaterial, poll?: Poll) {
  const { partSpacingMm: spacing, wallMarginMm, coverMm } = volume;
  const [x, y, z] = clearSizeMm(volume);
  const room: Room = [x + spacing, y + spacing, z + spacing];
  const diameters = copies.map(({ outsideDiameterMm }) => builtDiameterMm(outsideDiameterMm, material));
  const packing = packInOrder(
    diameters.map((diameter) => (diameter + spacing) / 2),
    room,
    poll,
  );
  const placements: TrayPlacement[] = [];
  packing.places.forEach((sphere, k) => {
    if (sphere === null) return;
    const { id, markedName } = copies[k];
    const [left, bottom] = [wallMarginMm - spacing / 2, coverMm - spacing / 2];
    placements.push({ id, markedName, centreMm: [left + sphere.x, left + sphere.y, bottom + sphere.z], diameterMm: diameters[k] });
  });
  const words = placements.length === 0 ? 'none: no part fits' : `${placements.length} of ${copies.length} parts: ${packing.words}`;
  return { placements, words };
}

function partResults(
  parts: readonly TrayPart[],
  placed: readonly TrayPlacement[][],
  cost: TrayCost,
  material: PrintMaterial,
): TrayPartResult[] {
  const scale = shrinkageScale(material);
  const volumes = parts.map(({ profile }) => volumeOf(profile) * scale[0] * scale[1] * scale[2]);
  const sintered = volumes.reduce((sum, each, i) => sum + each * placed[i].length, 0);
  return parts.map(({ id, markedName, count }, i) => ({
    id,
    markedName,
    count,
    placed: placed[i].length,
    left: count - placed[i].length,
    sinteredVolumeMm3: volumes[i],
    totalPerPart: placed[i].length === 0 ? null : { amount: (cost.total.amount * volumes[i]) / sintered, currency: cost.total.currency },
  }));
}

function leastGapMm(placements: readonly TrayPlacement[]): number | null {
  let least = Infinity;
  placements.forEach(({ centreMm: [x, y, z], diameterMm }, i) => {
    for (const { centreMm, diameterMm: other } of placements.slice(0, i))
      least = Math.min(least, Math.hypot(centreMm[0] - x, centreMm[1] - y, centreMm[2] - z) - (diameterMm + other) / 2);
  });
  return placements.length < 2 ? null : least;
}
