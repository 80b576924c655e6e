import type { Quantity } from './quantities.ts';

/** What the end of a field's name says of its unit. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/NPerMm$/, 'N/mm'],
  [/GCm3$/, 'g/cm³'],
  [/MmS$/, 'mm/s'],
  [/PerKg$/, 'per kg'],
  [/Kg$/, 'kg'],
  [/Bar$/, 'bar'],
  [/Mm3$/, 'mm³'],
  [/Mm$/, 'mm'],
  [/MPa$/, 'MPa'],
  [/Pct$/, '%'],
  [/Ms$/, 'ms'],
  [/Hours$/, 'h'],
  [/Hz$/, 'Hz'],
  [/MS$/, 'm/s'],
  [/Deg$/, '°'],
  [/S$/, 's'],
  [/C$/, '°C'],
  [/J$/, 'J'],
  [/N$/, 'N'],
  [/G$/, 'g'],
];

/** A field's name in words with its unit apart: `stiffnessNPerMm` is stiffness in N/mm. */
export function label(field: string): { name: string; unit: string } {
  const last = field.split('.').at(-1)!;
  const [pattern, unit] = UNITS.find(([each]) => each.test(last)) ?? [/$^/, ''];
  const bare = last.replace(pattern, '');
  const words = bare.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
  return { name: words || last, unit };
}

/** Quantities whose last word alone says too little on an axis. */
const IN_FULL: Partial<Record<Quantity, string>> = {
  totalPerPart: 'cost of a part, in the currency of its records',
  totalHours: 'time of a build, h',
  centreOfMassOffsetMm: 'centre of mass off by, mm',
  minCellOpeningMm: 'smallest cell opening, mm',
  'stiffness.peakStrainPct': 'peak strain when pressed, %',
  'rebound.peakStrainPct': 'peak strain in the bounce, %',
  initialNPerMm: 'initial stiffness, N/mm',
};

/** A quantity as an axis names it, with its unit: "stiffness, N/mm". */
export function axisWords(quantity: Quantity): string {
  const { name, unit } = label(quantity);
  return IN_FULL[quantity] ?? [name, unit].filter(Boolean).join(', ');
}
