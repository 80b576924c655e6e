import { FILTERABLE, QUANTITIES, type Quantity } from './quantities.ts';

/** What the end of a field's name says of its unit. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/NPerMm$/, 'N/mm'],
  [/GCm3$/, 'g/cm³'],
  [/MmS$/, 'mm/s'],
  [/PerKg$/, 'per kg'],
  [/Kg$/, 'kg'],
  [/Bar$/, 'bar'],
  [/GMm2$/, 'g mm²'],
  [/Mm3$/, 'mm³'],
  [/Mm2$/, 'mm²'],
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

/** A field's name in words with its unit apart: `stiffnessNPerMm` is stiffness in N/mm. One of a list has its number, from 1. */
export function label(field: string): { name: string; unit: string } {
  const [, list, place] = /^(.*[^.])\.(\d+)$/.exec(field) ?? [];
  if (list !== undefined) {
    const { name, unit } = label(list);
    return { name: `${name} ${Number(place) + 1}`, unit };
  }
  const last = field.split('.').at(-1)!;
  const [pattern, unit] = UNITS.find(([each]) => each.test(last)) ?? [/$^/, ''];
  const bare = last.replace(pattern, '');
  const words = bare.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
  return { name: words || last, unit };
}

/** Quantities whose last word alone says too little on an axis. */
const IN_FULL: Partial<Record<string, string>> & Partial<Record<Quantity, string>> = {
  totalPerPart: 'cost of a part, in the currency of its records',
  totalHours: 'time of a build, h',
  centreOfMassOffsetMm: 'centre of mass off by, mm',
  minCellOpeningMm: 'smallest cell opening, mm',
  'stiffness.peakStrainPct': 'peak strain when pressed, %',
  'rebound.peakStrainPct': 'peak strain in the bounce, %',
  initialNPerMm: 'initial stiffness, N/mm',
};

/** A quantity of a result, by its short name or its path, as an axis names it with its unit: "stiffness, N/mm". */
export function axisWords(quantity: string): string {
  const short = QUANTITIES.find((each) => FILTERABLE[each] === quantity) ?? quantity;
  const { name, unit } = label(short);
  return IN_FULL[short] ?? [name, unit].filter(Boolean).join(', ');
}
