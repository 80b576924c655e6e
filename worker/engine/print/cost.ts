import { shown } from './sentence.ts';
import type { BuildEstimate, BuildVolume, CostEstimate, PrintFault, PrintMaterial } from './types.ts';

/** null where no part fits: there is no cost per part then. */
export type CostOutcome =
  | { readonly kind: 'done'; readonly cost: CostEstimate | null }
  | { readonly kind: 'fault'; readonly fault: PrintFault };

/** Powder that clings to parts, stays in sieves and filters, over the mass sintered; a judgement, no published figure. */
const LOSS_SHARE = 0.05;
const MM3_PER_CM3 = 1000;
const G_PER_KG = 1000;

/** What a whole build takes: powder in kg, money in the currency of both records. */
export interface BuildExpense {
  readonly powderKg: number;
  readonly virginKg: number;
  readonly powder: number;
  readonly machine: number;
  readonly currency: string;
}

/**
 * Powder = cake volume * bulk density; virgin powder = the refresh share of it, or the mass sintered plus losses where that is more (a blend
 * cannot be kept up with less); used powder costs nothing again. Machine = (hours in the chamber + set-up) * hourly rate. sinteredG: mass of
 * all parts. Fault `currency-mismatch` when price and rate differ in currency.
 */
export function expenseOf(
  build: BuildEstimate,
  sinteredG: number,
  material: PrintMaterial,
  volume: BuildVolume,
): { kind: 'done'; expense: BuildExpense } | { kind: 'fault'; fault: PrintFault } {
  const { pricePerKg } = material;
  const { hourlyRate } = volume;
  if (pricePerKg.currency !== hourlyRate.currency) return { kind: 'fault', fault: mismatch(pricePerKg.currency, hourlyRate.currency) };
  const cakeCm3 = (volume.sizeMm[0] * volume.sizeMm[1] * build.heightMm) / MM3_PER_CM3;
  const powderKg = (cakeCm3 * material.bulkDensityGCm3) / G_PER_KG;
  const virginKg = Math.max((powderKg * material.virginSharePct) / 100, (sinteredG / G_PER_KG) * (1 + LOSS_SHARE));
  const powder = virginKg * pricePerKg.amount;
  const machine = (build.totalHours + volume.setUpHours) * hourlyRate.amount;
  return { kind: 'done', expense: { powderKg, virginKg, powder, machine, currency: pricePerKg.currency } };
}

/** Cost of one of the equal parts of a build; see `expenseOf`. partMassG: mass of one part. */
export function buildCost(build: BuildEstimate, partMassG: number, material: PrintMaterial, volume: BuildVolume): CostOutcome {
  const parts = build.partsPerBuild;
  const outcome = expenseOf(build, parts * partMassG, material, volume);
  if (outcome.kind === 'fault') return outcome;
  if (parts === 0) return { kind: 'done', cost: null };
  const { powderKg, virginKg, powder, machine, currency } = outcome.expense;
  const full = `The build is full: ${parts} equal ${parts === 1 ? 'part shares' : 'parts share'} powder and machine hours evenly.`;
  return {
    kind: 'done',
    cost: {
      powderKgPerBuild: powderKg,
      virginPowderKgPerBuild: virginKg,
      powderCostPerPart: { amount: powder / parts, currency },
      machineCostPerPart: { amount: machine / parts, currency },
      totalPerPart: { amount: (powder + machine) / parts, currency },
      assumptions: [full, ...expenseAssumptions(material, volume)],
    },
  };
}

const mismatch = (price: string, rate: string): PrintFault => ({
  code: 'currency-mismatch',
  message: `The material's pricePerKg is in ${price} and the build volume's hourlyRate in ${rate}; allowed: one currency for both.`,
  details: { pricePerKgCurrency: price, hourlyRateCurrency: rate },
});

/** The sentences that `expenseOf` rests on. */
export const expenseAssumptions = (material: PrintMaterial, volume: BuildVolume): string[] => [
  `The powder cake fills the whole platform to its height, at a bulk density of ${shown(material.bulkDensityGCm3)} g/cm3.`,
  `Virgin powder is ${shown(material.virginSharePct)} % of the cake, and never less than the mass sintered plus ${shown(100 * LOSS_SHARE)} % losses (a judgement).`,
  'Only virgin powder is paid for; used powder comes back from the build before.',
  `Machine hours are those in the chamber and ${shown(volume.setUpHours)} hours of set-up, at one rate; cleaning and finishing are not counted.`,
];
