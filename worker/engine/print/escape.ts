import type { Lattice } from '../lattice/index.ts';
import type { Openings } from './opening.ts';
import type { Place } from './types.ts';
import { type WidestPaths, type Windows, widestPaths } from './widest-path.ts';

/** The powder's widest way out of every inner space. */
export interface PowderEscape {
  /** The least over all inner spaces, mm: a grain, or a lump, of this size leaves every space. 0 when one is closed. */
  readonly leastMm: number;
  /** Width of the widest way out of each space, mm; space 0 is the outside (Infinity). */
  readonly widthMm: Float64Array;
  /** Narrowest windows on the widest ways out narrower than `limitMm`, each once, the worst first. */
  places(limitMm: number): Place[];
}

/**
 * Graph of spaces: 0 the outside; 1 the core inside the innermost layer; then one prism for each cell between each pair of neighbouring
 * layers. Windows: the cells of every layer (they join what lies above and below) and the quadrilaterals between posts (they join
 * neighbouring prisms). A lump passes a window when it is no larger than its opening.
 */
export function powderEscape(lattice: Lattice, openings: Openings): PowderEscape {
  const windows = windowsOf(lattice, openings);
  const spaceCount = 2 + (lattice.layerCount - 1) * lattice.cellCount;
  const paths = widestPaths(spaceCount, windows, 0);
  return {
    leastMm: paths.width.reduce((least, each) => Math.min(least, each), Infinity),
    widthMm: paths.width,
    places: (limitMm) => narrowWindows(lattice, windows, paths, limitMm),
  };
}

/** The space under cell c of a layer; layer -1: the outside above layer 0. */
function spaceBelow(lattice: Lattice, layer: number, cell: number): number {
  if (layer < 0) return 0;
  return layer === lattice.layerCount - 1 ? 1 : 2 + layer * lattice.cellCount + cell;
}

/** Windows in the order: cells of layer 0, 1, ...; sides of gap 0, 1, ... */
function windowsOf(lattice: Lattice, { cells, sides }: Openings): Windows {
  const from: number[] = [];
  const to: number[] = [];
  for (let layer = 0; layer < lattice.layerCount; layer++) {
    for (let cell = 0; cell < lattice.cellCount; cell++) {
      from.push(spaceBelow(lattice, layer - 1, cell));
      to.push(spaceBelow(lattice, layer, cell));
    }
  }
  const [left, right] = cellsBesideStruts(lattice);
  sides.forEach((gap, above) => {
    for (let e = 0; e < gap.length; e++) {
      from.push(spaceBelow(lattice, above, left[e]));
      to.push(spaceBelow(lattice, above, right[e]));
    }
  });
  const width = new Float64Array(from.length);
  let next = 0;
  for (const part of [...cells, ...sides]) {
    width.set(part, next);
    next += part.length;
  }
  return { from: Int32Array.from(from), to: Int32Array.from(to), width };
}

/** The two cells on either side of each strut of a layer. */
function cellsBesideStruts(lattice: Lattice): [Int32Array, Int32Array] {
  const left = new Int32Array(lattice.strutsPerLayer).fill(-1);
  const right = new Int32Array(lattice.strutsPerLayer).fill(-1);
  for (let cell = 0; cell < lattice.cellCount; cell++) {
    for (let i = lattice.cellPtr[cell]; i < lattice.cellPtr[cell + 1]; i++) {
      const strut = lattice.cellStruts[i];
      if (left[strut] < 0) left[strut] = cell;
      else right[strut] = cell;
    }
  }
  return [left, right];
}

function narrowWindows(lattice: Lattice, windows: Windows, { width, bottleneck }: WidestPaths, limitMm: number): Place[] {
  const narrow = new Set<number>();
  for (let space = 1; space < width.length; space++) {
    if (width[space] > 0 && width[space] < limitMm) narrow.add(bottleneck[space]);
  }
  // A space with no way out at all has no bottleneck: the closed windows around it are at fault.
  const closed = (space: number) => width[space] === 0;
  windows.width.forEach((opening, window) => {
    if (opening === 0 && (closed(windows.from[window]) || closed(windows.to[window]))) narrow.add(window);
  });
  return [...narrow].sort((p, q) => windows.width[p] - windows.width[q] || p - q).map((window) => placeOf(lattice, window));
}

/** A side window is shown by the strut of the outer layer it hangs under. */
function placeOf({ layerCount, cellCount, strutsPerLayer }: Lattice, window: number): Place {
  const cellWindows = layerCount * cellCount;
  if (window < cellWindows) return { kind: 'cell', index: window % cellCount, layer: Math.floor(window / cellCount) };
  return { kind: 'strut', index: window - cellWindows, layer: Math.floor((window - cellWindows) / strutsPerLayer) };
}
