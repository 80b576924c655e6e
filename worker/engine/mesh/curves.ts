import type { UnionSurface } from '../solid/index.ts';
import { stepAngle } from './facets.ts';
import type { Outline, Piece } from './outline.ts';
import { distance, type Place, type Point, placeOn, pointOn, widest, wrapped } from './place.ts';
import { weld } from './weld.ts';

/** What became of the pieces of all outlines. */
export interface Curves {
  /** Vertices of each piece from its start to its end; those of a ring end with the one they begin with. */
  readonly vertices: ReadonlyMap<Piece, readonly number[]>;
  /** Struts with a curve that has no other side, or that rounding swallowed. */
  readonly lost: ReadonlySet<number>;
}

/** A stretch of a piece between two vertices where curves of several bodies meet. */
interface Segment {
  readonly piece: Piece;
  readonly a: number;
  readonly b: number;
  readonly from: number;
  readonly to: number;
  /** Vertices strictly between; null until they are placed. */
  readonly inner: readonly number[] | null;
  /** Where its middle lies, once it is placed. */
  readonly middle: Point | null;
}

interface Drawing {
  readonly surface: UnionSurface;
  readonly chordMm: number;
  readonly weldMm: number;
  /** Vertices so far, 3 numbers each. */
  readonly xyz: number[];
  readonly poll: () => void;
}

const DEEPEST = 14;

/**
 * Gives every curve between two bodies its vertices once: corners that lie together are one, a curve that both its struts tell of is cut at the corners
 * of both, and of the two the thinner strut places the vertices between them.
 */
export function drawCurves(outlines: readonly Outline[], { surface, chordMm, weldMm, xyz, poll }: Drawing): Curves {
  const { data } = surface.frames;
  const pieces = outlines.flatMap(piecesOf);
  const add = (place: Point): number => xyz.push(...place) / 3 - 1;
  const [startOf, endOf] = corners();
  const segments = new Map<Piece, Segment[]>();
  const lost = new Set<number>();
  const pairs = pairsOf();
  for (const piece of pieces) if (piece.partner < 0) segments.set(piece, cut(piece, []));
  for (const pair of pairs) {
    poll();
    for (const piece of pair) segments.set(piece, cut(piece, pair));
  }
  for (const outline of outlines) {
    poll();
    sampleOwn(piecesOf(outline).filter(owns));
  }
  for (const pair of pairs) {
    poll();
    match(pair);
  }
  return { vertices: new Map(pieces.map((piece) => [piece, joined(piece)])), lost };

  /** Whether a piece is of the thinner of its two struts, which places the vertices of their curve. */
  function owns(piece: Piece): boolean {
    const { strut, partner } = piece;
    if (partner < 0) return true;
    const off = widest(data, strut) - widest(data, partner);
    return Math.abs(off) > weldMm ? off < 0 : strut < partner;
  }

  /** The vertices at the two ends of every open piece. */
  function corners(): [Map<Piece, number>, Map<Piece, number>] {
    const open = pieces.filter(({ closed }) => !closed);
    const places = open.flatMap(({ start, end }) => [start.at, end.at]);
    const { group, firsts } = weld(places, weldMm, poll);
    const vertices = firsts.map((k) => add(places[k]));
    return [
      new Map(open.map((piece, k) => [piece, vertices[group[2 * k]]])),
      new Map(open.map((piece, k) => [piece, vertices[group[2 * k + 1]]])),
    ];
  }

  /** The pieces of every two struts that meet, from both sides. */
  function pairsOf(): Piece[][] {
    const found = new Map<string, Piece[]>();
    for (const piece of pieces) {
      const partner = piece.partner;
      if (partner < 0) continue;
      const key = `${Math.min(piece.strut, partner)} ${Math.max(piece.strut, partner)}`;
      const list = found.get(key);
      if (list) list.push(piece);
      else found.set(key, [piece]);
    }
    return [...found.values()];
  }

  /** Cuts a piece at the corners that the other side knows of. */
  function cut(piece: Piece, pair: readonly Piece[]): Segment[] {
    const { strut, start, end, closed } = piece;
    const marks: { vertex: number; phi: number }[] = [];
    for (const other of pair) {
      if (other.strut === strut || other.closed) continue;
      for (const [vertex, { at: place }] of [
        [startOf.get(other)!, other.start],
        [endOf.get(other)!, other.end],
      ] as const) {
        if (vertex === startOf.get(piece) || vertex === endOf.get(piece) || marks.some((mark) => mark.vertex === vertex)) continue;
        const turn = wrapped(placeOn(data, strut, place).phi - (start.phi + end.phi) / 2);
        if (Math.abs(turn) > (end.phi - start.phi) / 2) continue;
        marks.push({ vertex, phi: (start.phi + end.phi) / 2 + turn });
      }
    }
    const near = marks.filter(({ vertex, phi }) => liesOn(piece, vertex, phi, pair)).sort((p, q) => p.phi - q.phi);
    const nodes = closed
      ? near.length > 0
        ? [...near, { vertex: near[0].vertex, phi: near[0].phi + 2 * Math.PI }]
        : []
      : [{ vertex: startOf.get(piece)!, phi: start.phi }, ...near, { vertex: endOf.get(piece)!, phi: end.phi }];
    if (nodes.length === 0) {
      const vertex = owns(piece) ? add(start.at) : -1;
      return [segmentOf(piece, { vertex, phi: start.phi }, { vertex, phi: end.phi })];
    }
    return nodes
      .slice(1)
      .map((node, k) => segmentOf(piece, nodes[k], node))
      .filter(({ a, b, from, to }) => a !== b || to - from > Math.PI);
  }

  /** A strut may meet another in several curves: a corner belongs to the one that passes through it. */
  function liesOn(piece: Piece, vertex: number, phi: number, pair: readonly Piece[]): boolean {
    const others = pair.filter((each) => each.strut === piece.strut && each !== piece);
    if (others.length === 0) return true;
    surface.gather(piece.strut);
    const t = surface.cover.limit(piece.code, Math.cos(phi), Math.sin(phi));
    if (Number.isNaN(t)) return false;
    const place = pair.flatMap((each) =>
      each.closed ? [] : [[startOf.get(each), each.start.at] as const, [endOf.get(each), each.end.at] as const],
    );
    return place.some(([v, at]) => v === vertex && distance(at, pointOn(data, piece.strut, phi, t)) < 4 * weldMm);
  }

  function sampleOwn(own: readonly Piece[]): void {
    if (own.length === 0) return;
    surface.gather(own[0].strut);
    for (const piece of own) segments.set(piece, segments.get(piece)!.map(sample));
  }

  /** Places vertices along a segment: no step is wider than the chord allows on either strut. */
  function sample(segment: Segment): Segment {
    const { piece, from, to } = segment;
    const { strut, code, partner } = piece;
    const place = (phi: number): Place | null => {
      const t = surface.cover.limit(code, Math.cos(phi), Math.sin(phi));
      return Number.isNaN(t) ? null : { phi, at: pointOn(data, strut, phi, t) };
    };
    const corner = (vertex: number, phi: number): Place => ({ phi, at: xyz.slice(3 * vertex, 3 * vertex + 3) as unknown as Point });
    const partnerStep = partner < 0 ? Number.POSITIVE_INFINITY : stepAngle(widest(data, partner), chordMm);
    const between: Place[] = [];
    const refine = (a: Place, b: Place, depth: number): void => {
      if (partner < 0 || depth === DEEPEST) return;
      const turn = wrapped(placeOn(data, partner, b.at).phi - placeOn(data, partner, a.at).phi);
      const middle = Math.abs(turn) > partnerStep ? place((a.phi + b.phi) / 2) : null;
      if (!middle) return;
      refine(a, middle, depth + 1);
      between.push(middle);
      refine(middle, b, depth + 1);
    };
    const steps = Math.max(1, Math.ceil((to - from) / stepAngle(widest(data, strut), chordMm) - 1e-9));
    let before = corner(segment.a, from);
    for (let k = 1; k <= steps; k++) {
      const next: Place | null = k === steps ? corner(segment.b, to) : place(from + ((to - from) * k) / steps);
      if (!next) {
        lost.add(strut);
        return segment;
      }
      refine(before, next, 0);
      if (k < steps) between.push(next);
      before = next;
    }
    const middle = place((from + to) / 2)?.at ?? null;
    return { ...segment, inner: between.map(({ at: where }) => add(where)), middle };
  }

  /** Hands the vertices of each segment to its other side. */
  function match(pair: readonly Piece[]): void {
    const own = pair.filter(owns).flatMap((piece) => segments.get(piece)!);
    for (const piece of pair) {
      if (owns(piece)) continue;
      const list = segments.get(piece)!;
      for (const [k, segment] of list.entries()) {
        const same = own.filter((each) => each.inner && isSame(each, segment));
        const other = same.length > 1 ? nearest(segment, same) : same[0];
        if (!other) {
          lost.add(piece.strut);
          continue;
        }
        own.splice(own.indexOf(other), 1);
        list[k] = {
          ...segment,
          a: segment.a < 0 ? other.a : segment.a,
          b: segment.b < 0 ? other.b : segment.b,
          inner: along(segment, other),
        };
      }
    }
    for (const { piece } of own) lost.add(piece.strut);
  }

  function isSame(own: Segment, other: Segment): boolean {
    if (other.a < 0) return own.a === own.b;
    return (own.a === other.a && own.b === other.b) || (own.a === other.b && own.b === other.a);
  }

  /** Of several curves between the same corners the one whose middle lies on this segment, if any does. */
  function nearest({ piece, from, to }: Segment, same: readonly Segment[]): Segment | undefined {
    const { strut, code } = piece;
    surface.gather(strut);
    const off = same.map(({ middle }) => {
      if (!middle) return Number.POSITIVE_INFINITY;
      const turn = wrapped(placeOn(data, strut, middle).phi - (from + to) / 2);
      if (Math.abs(turn) > (to - from) / 2 + 1e-9) return Number.POSITIVE_INFINITY;
      const phi = (from + to) / 2 + turn;
      const t = surface.cover.limit(code, Math.cos(phi), Math.sin(phi));
      return Number.isNaN(t) ? Number.POSITIVE_INFINITY : distance(middle, pointOn(data, strut, phi, t));
    });
    const least = Math.min(...off);
    return least < Number.POSITIVE_INFINITY ? same[off.indexOf(least)] : undefined;
  }

  /** The inner vertices of the other side's segment in this one's sense. */
  function along({ piece, a, b, from }: Segment, other: Segment): readonly number[] {
    const inner = other.inner!;
    if (a !== b) return a === other.a ? inner : [...inner].reverse();
    const first = inner.length > 0 ? xyz.slice(3 * inner[0], 3 * inner[0] + 3) : null;
    const begin = a < 0 ? placeOn(data, piece.strut, xyz.slice(3 * other.a, 3 * other.a + 3)).phi : from;
    return first && wrapped(placeOn(data, piece.strut, first).phi - begin) < 0 ? [...inner].reverse() : inner;
  }

  function joined(piece: Piece): number[] {
    const list = segments.get(piece)!;
    const vertices = list.length === 0 ? [startOf.get(piece)!] : [list[0].a];
    for (const { inner, b } of list) vertices.push(...(inner ?? []), b);
    return vertices;
  }
}

const piecesOf = ({ columns }: Outline): Piece[] => columns.flat(2).flat();

const segmentOf = (piece: Piece, from: { vertex: number; phi: number }, to: { vertex: number; phi: number }): Segment => ({
  piece,
  a: from.vertex,
  b: to.vertex,
  from: from.phi,
  to: to.phi,
  inner: null,
  middle: null,
});
