import type { Setting, Variation } from '../openapi/index.ts';
import type { UndertakingRecord } from '../prisma/index.ts';
import { keyOf } from './variations.ts';

/** What an undertaking varies: a number, or choices as they are stored. */
export interface Varied {
  path: string;
  /** null: a number. */
  choices: Setting['value'][] | null;
}

/** What a batch varies, or a search leaves free. Choices that are all numbers are numbers. */
export function variedBy({ input }: UndertakingRecord): Varied[] {
  const { vary, free } = input as { vary?: Pick<Variation, 'path' | 'choices'>[]; free?: Pick<Variation, 'path' | 'choices'>[] };
  return (vary ?? free ?? []).map(({ path, choices }) => ({
    path,
    choices: choices?.some((each) => typeof each !== 'number') ? choices : null,
  }));
}

/** A member's settings as numbers: of choices their places. null: one of them is none of the choices. */
export function rowOf(varied: readonly Varied[], settings: readonly unknown[]): number[] | null {
  const row = varied.map(({ choices }, k) => {
    if (choices) return choices.findIndex((each) => isPartOf(each, settings[k]));
    return typeof settings[k] === 'number' ? settings[k] : -1;
  });
  return varied.every(({ choices }, k) => (choices ? row[k] >= 0 : typeof settings[k] === 'number')) ? row : null;
}

/** A choice that is an object was merged into what stood there, so it is found in it. */
function isPartOf(choice: unknown, whole: unknown): boolean {
  if (typeof choice !== 'object' || choice === null) return choice === whole;
  if (typeof whole !== 'object' || whole === null) return false;
  return Object.entries(choice).every(([name, value]) => isPartOf(value, (whole as Record<string, unknown>)[name]));
}

/** Choices as they are shown: records by their keys. */
export const shownChoices = ({ choices }: Varied): Setting['value'][] | null => choices?.map(keyOf) ?? null;
