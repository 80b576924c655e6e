import { graphJson } from './export/index.ts';
import { G_MM3_PER_G_CM3 } from './figures.ts';
import { outsideDiameterOf } from './geometry.ts';
import { latticeOf, tilingOf } from './laid-out.ts';
import type { ParameterSet } from './lattice/index.ts';
import type { EngineError } from './mechanics.ts';
import { integrateUnion, massProperties, unionSurface } from './solid/index.ts';

export type Preview =
  | { readonly kind: 'preview'; readonly graph: ReturnType<typeof graphJson>; readonly massG: number; readonly outsideDiameterMm: number }
  | { readonly kind: 'fault'; readonly fault: EngineError };

/** The lattice of a parameter set and its exact mass, within milliseconds for a symmetric one: what can be seen before anything is evaluated. */
export function previewOf(parameterSet: ParameterSet, densityGCm3: number): Preview {
  const laid = latticeOf(parameterSet, tilingOf(parameterSet).tiling);
  if (laid.kind === 'fault') return laid;
  const { graph, symmetry } = laid.lattice;
  const { moments } = integrateUnion(graph, unionSurface(graph), symmetry);
  const { mass } = massProperties(moments, [0, 0, 0], densityGCm3 * G_MM3_PER_G_CM3);
  return { kind: 'preview', graph: graphJson(graph), massG: mass, outsideDiameterMm: outsideDiameterOf(laid.lattice) };
}

/** Struts of graph.json around cells of a layer: what a check means that points at a cell. */
export function strutsAround(parameterSet: ParameterSet, cells: readonly { readonly index: number; readonly layer?: number }[]): number[] {
  const laid = latticeOf(parameterSet, tilingOf(parameterSet).tiling);
  if (laid.kind === 'fault') return [];
  const { cellPtr, cellStruts, strutsPerLayer } = laid.lattice;
  return cells.flatMap(({ index, layer = 0 }) =>
    Array.from(cellStruts.subarray(cellPtr[index], cellPtr[index + 1]), (edge) => layer * strutsPerLayer + edge),
  );
}
