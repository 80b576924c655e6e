import { FILTERABLE, type Quantity } from './quantities.ts';
import { result } from './result.ts';
import { said } from './shown.ts';
import type { Tests } from './tests.ts';

const DEPTHS = ['geometry', 'static', 'full'] as const;
type Depth = Tests['depth'];

/** Parts of a result that need mechanics, and the depth that adds each. */
const DEPTH_OF: Record<string, Depth> = {
  material: 'static',
  joints: 'static',
  stiffness: 'static',
  vibration: 'static',
  rebound: 'full',
  life: 'full',
};
/** Parts that are there only where the tests ask for them. */
const ON_REQUEST = ['motion', 'variation'] as const;

const partOf = (quantity: string): string => (FILTERABLE[quantity as Quantity] ?? quantity).split('.')[0];

/** The least depth that gives all these quantities. */
export const depthFor = (quantities: readonly string[]): Depth =>
  DEPTHS[Math.max(0, ...quantities.map((each) => DEPTHS.indexOf(DEPTH_OF[partOf(each)] ?? 'geometry')))];

/** Why a quantity will have no value under these tests; null: it can have one. */
export function depthRefusal(quantity: string, tests: Tests): string | null {
  const part = partOf(quantity);
  if (!Object.hasOwn(result.shape, part)) {
    return `is ${said(quantity)}, which no result has; allowed: a short name, or a dotted path that begins with ${Object.keys(result.shape).join(', ')}`;
  }
  const needed = DEPTH_OF[part] ?? 'geometry';
  if (DEPTHS.indexOf(needed) > DEPTHS.indexOf(tests.depth)) {
    return `is ${said(quantity)}, which depth ${tests.depth} does not give; allowed: quantities of that depth, or tests.depth ${needed}`;
  }
  const asked = ON_REQUEST.find((each) => each === part);
  return asked && !tests[asked] ? `is ${said(quantity)}, which the tests do not ask for; required: tests.${asked}` : null;
}
