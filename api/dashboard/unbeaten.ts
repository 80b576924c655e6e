/** The ids that no other is at least as good as in both and better in one; a sign of 1 wants little, -1 much. */
export function unbeaten(points: readonly { each: { id: string }; x: number; y: number }[], signX: 1 | -1, signY: 1 | -1): Set<string> {
  const sorted = [...points].sort((a, b) => signX * (a.x - b.x) || signY * (a.y - b.y));
  const best = new Set<string>();
  let least = Number.POSITIVE_INFINITY;
  for (const { each, y } of sorted) {
    if (signY * y >= least) continue;
    least = signY * y;
    best.add(each.id);
  }
  return best;
}
