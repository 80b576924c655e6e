import { useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../client.ts';
import type { Graph, OpenScene } from './scene.ts';

/** Places that a check points at. */
export interface Marked {
  name: string;
  places: readonly { kind: string; index: number; layer?: number }[];
}

const TURN = 0.12;

/** The lattice of an evaluation, to be turned by pointer, finger or arrow keys. */
export function LatticeView({ id, marked }: { id: string; marked: Marked | null }) {
  const [graph, setGraph] = useState<Graph | null>(null);
  const [failed, setFailed] = useState<string | null>(null);
  useEffect(() => {
    ask<Graph>(`/v1/evaluations/${id}/files/graph.json`).then(
      ({ body }) => setGraph(body),
      (error: Error) => setFailed(error.message),
    );
  }, [id]);
  if (failed) return <p class="quiet">The lattice cannot be shown: {failed}</p>;
  return <GraphView graph={graph} marked={marked} />;
}

/** A graph of struts that is known already, or still to come. */
export function GraphView({ graph, marked = null }: { graph: Graph | null; marked?: Marked | null }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const scene = useRef<OpenScene | null>(null);
  const [failed, setFailed] = useState(false);

  useEffect(() => {
    if (!graph || !canvas.current) return;
    let gone = false;
    import('./scene.ts')
      .then(({ openScene }) => {
        if (!gone && canvas.current) scene.current = openScene(canvas.current, graph);
      })
      .catch(() => setFailed(true));
    return () => {
      gone = true;
      scene.current?.close();
      scene.current = null;
    };
  }, [graph]);
  useEffect(() => {
    const of = (kind: string) => new Set((marked?.places ?? []).filter((each) => each.kind === kind).map(({ index }) => index));
    scene.current?.mark(of('strut'), of('node'));
  }, [marked]);

  const dragged = (event: PointerEvent) => {
    if (event.buttons) scene.current?.turn(event.movementX / 120, event.movementY / 120);
  };
  const keys: Record<string, () => void> = {
    ArrowLeft: () => scene.current?.turn(-TURN, 0),
    ArrowRight: () => scene.current?.turn(TURN, 0),
    ArrowUp: () => scene.current?.turn(0, TURN),
    ArrowDown: () => scene.current?.turn(0, -TURN),
    '+': () => scene.current?.zoom(0.9),
    '-': () => scene.current?.zoom(1.1),
  };
  const pressed = (event: KeyboardEvent) => {
    if (!keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  };
  if (failed) return <p class="quiet">This browser cannot draw in three dimensions (WebGL); the files below show the lattice.</p>;
  return (
    <canvas
      ref={canvas}
      class="view"
      tabIndex={0}
      role="img"
      aria-label="The lattice in three dimensions; arrow keys turn it, plus and minus bring it nearer or farther"
      onPointerDown={(event) => (event.target as HTMLCanvasElement).setPointerCapture(event.pointerId)}
      onPointerMove={dragged}
      onKeyDown={pressed}
    />
  );
}
