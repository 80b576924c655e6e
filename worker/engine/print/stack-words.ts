import { shown } from './sentence.ts';
import { countSpheres, layersOf } from './sphere-stack.ts';
import type { TurnedStack } from './stack-search.ts';

/** How `count` equal parts stand, in words; stack null: placed one by one. pitch: least distance of two centres. */
export function stackInWords(turned: TurnedStack | null, pitch: number, count: number): string {
  if (count === 0) return 'none: one part does not fit';
  if (count === 1) return 'one part';
  if (turned === null) return 'one by one, each where it lies lowest';
  const all = countSpheres(turned.stack, turned.box);
  return all === count ? inWords(turned, pitch) : `the lowest ${count} of ${all} places: ${inWords(turned, pitch)}`;
}

function inWords({ stack, axes, box }: TurnedStack, pitch: number): string {
  const axis = (k: number) => 'xyz'[axes[k]];
  const nested = stack.layerShift[0] !== 0 || stack.layerShift[1] !== 0;
  const layers = layersOf(stack, box);
  const rows = `${stack.rowShift === 0 ? 'square' : 'staggered'} rows along ${axis(0)}, ${shown(stack.pitch)} mm apart in the row`;
  const steps = `rows ${shown(stack.rowStep)} mm apart along ${axis(1)}`;
  if (layers === 1) return `${rows}, ${steps}, one layer`;
  const turn = nested ? 'nested layers' : 'aligned layers';
  const tight = stack.pitch <= pitch * (1 + 1e-9) ? '' : ', pulled apart so that the next nests deeper';
  return `${rows}, ${steps}; ${layers} ${turn}, ${shown(stack.layerStep)} mm apart along ${axis(2)}${tight}`;
}
