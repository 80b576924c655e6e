/** Edges between numbered spaces; edge i joins from[i] and to[i] and is width[i] wide. */
export interface Windows {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly width: Float64Array;
}

export interface WidestPaths {
  /** Width of the widest way from each space to the source: the largest, over all ways, of their narrowest window. Infinity at the source, 0 where no way leads. */
  readonly width: Float64Array;
  /** The narrowest window on that way, -1 where there is none. */
  readonly bottleneck: Int32Array;
}

/**
 * Maximin ("bottleneck") paths from every space to the source: windows are opened from the widest down (a maximum spanning forest,
 * Kruskal 1956), and when a window joins a group of spaces to the source's group, it is their bottleneck. O(windows log windows).
 */
export function widestPaths(spaceCount: number, windows: Windows, source: number): WidestPaths {
  const width = new Float64Array(spaceCount);
  const bottleneck = new Int32Array(spaceCount).fill(-1);
  width[source] = Infinity;
  const group = Int32Array.from({ length: spaceCount }, (_, space) => space);
  const members = Array.from({ length: spaceCount }, (_, space) => [space]);
  const rootOf = (space: number) => {
    while (group[space] !== space) space = group[space] = group[group[space]];
    return space;
  };
  const order = Array.from(windows.width.keys()).sort((p, q) => windows.width[q] - windows.width[p] || p - q);
  for (const window of order) {
    const [p, q] = [rootOf(windows.from[window]), rootOf(windows.to[window])];
    if (p === q || windows.width[window] <= 0) continue;
    const home = rootOf(source);
    if (p === home || q === home) {
      for (const space of members[p === home ? q : p]) {
        width[space] = windows.width[window];
        bottleneck[space] = window;
      }
    }
    const [large, small] = members[p].length >= members[q].length ? [p, q] : [q, p];
    group[small] = large;
    for (const space of members[small]) members[large].push(space);
    members[small] = [];
  }
  return { width, bottleneck };
}
