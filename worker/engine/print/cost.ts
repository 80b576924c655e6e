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

/**
 * Powder and machine cost of one part at a full build. Powder = cake volume * bulk density; virgin powder = the refresh share of it, or the
 * mass sintered plus losses where that is more (a blend cannot be kept up with less); used powder costs nothing again. Machine = (hours in
 * the chamber + set-up) * hourly rate. partMassG: mass of one part. Fault `currency-mismatch` when price and rate differ in currency.
 */
export function buildCost(build: BuildEstimate, partMassG: number, material: PrintMaterial, volume: BuildVolume): CostOutcome {
  const { pricePerKg } = material;
  const { hourlyRate } = volume;
  if (pricePerKg.currency !== hourlyRate.currency) return { kind: 'fault', fault: mismatch(pricePerKg.currency, hourlyRate.currency) };
  if (build.partsPerBuild === 0) return { kind: 'done', cost: null };

  const cakeCm3 = (volume.sizeMm[0] * volume.sizeMm[1] * build.heightMm) / MM3_PER_CM3;
  const powderKg = (cakeCm3 * material.bulkDensityGCm3) / G_PER_KG;
  const sinteredKg = (build.partsPerBuild * partMassG) / G_PER_KG;
  const virginKg = Math.max((powderKg * material.virginSharePct) / 100, sinteredKg * (1 + LOSS_SHARE));
  const powder = (virginKg * pricePerKg.amount) / build.partsPerBuild;
  const machine = ((build.totalHours + volume.setUpHours) * hourlyRate.amount) / build.partsPerBuild;
  const money = (amount: number) => ({ amount, currency: pricePerKg.currency });
  return {
    kind: 'done',
    cost: {
      powderKgPerBuild: powderKg,
      virginPowderKgPerBuild: virginKg,
      powderCostPerPart: money(powder),
      machineCostPerPart: money(machine),
      totalPerPart: money(powder + machine),
      assumptions: assumptions(build, material, volume),
    },
  };
}

const mismatch = (price: string, rate: string): PrintFault => ({
  code: 'currency-mismatch',
  message: `The material's pricePerKg is in ${price} and the build volume's hourlyRate in ${rate}; allowed: one currency for both.`,
  details: { pricePerKgCurrency: price, hourlyRateCurrency: rate },
});

function assumptions(build: BuildEstimate, material: PrintMaterial, volume: BuildVolume): string[] {
  return [
    `The build is full: ${build.partsPerBuild} equal ${build.partsPerBuild === 1 ? 'part shares' : 'parts share'} powder and machine hours evenly.`,
    `The powder cake fills the whole platform to its height, at a bulk density of ${shown(material.bulkDensityGCm3)} g/cm3.`,
    `Virgin powder is ${shown(material.virginSharePct)} % of the cake, and never less than the mass sintered plus ${shown(100 * LOSS_SHARE)} % losses (a judgement).`,
    'Only virgin powder is paid for; used powder comes back from the build before.',
    `Machine hours are those in the chamber and ${shown(volume.setUpHours)} hours of set-up, at one rate; cleaning and finishing are not counted.`,
  ];
}
