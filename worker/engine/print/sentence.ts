/** A number as a sentence shows it: four significant digits. */
export const shown = (value: number): string => String(Number(value.toPrecision(4)));
