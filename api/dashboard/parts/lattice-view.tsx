import { useEffect, useRef, useState } from 'preact/hooks';
import { ask } from '../client.ts';
import type { Graph, OpenScene } from './scene.ts';

/** Places that a check points at. */
export interface Marked {
  name: string;
  places: readonly { kind: string; index: number; layer?: number }[];
}

const TURN = 0.12;

/** Where the nodes are at one moment, xyz in a row, and what share of the most each strut is strained by. */
export interface Pose {
  xyz: ArrayLike<number>;
  shade(strut: number): number;
}

/** The lattice of an evaluation, to be turned by pointer, finger or arrow keys. */
export function LatticeView({ id, marked, pose }: { id: string; marked: Marked | null; pose: Pose | null }) {
  const [graph, setGraph] = useState<Graph | null>(null);
  const [failed, setFailed] = useState<string | null>(null);
  useEffect(() => {
    ask<Graph>(`/v1/evaluations/${id}/files/graph.json`).then(
      ({ body }) => setGraph(body),
      (error: Error) => setFailed(error.message),
    );
  }, [id]);
  if (failed) return <p class="quiet">The lattice cannot be shown: {failed}</p>;
  return <GraphView graph={graph} marked={marked} pose={pose} />;
}

/** A graph of struts that is known already, or still to come. */
export function GraphView({ graph, marked = null, pose = null }: { graph: Graph | null; marked?: Marked | null; pose?: Pose | null }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [scene, setScene] = useState<OpenScene | null>(null);
  const [failed, setFailed] = useState(false);

  useEffect(() => {
    if (!graph || !canvas.current) return;
    let [gone, opened] = [false, null as OpenScene | null];
    import('./scene.ts')
      .then(({ openScene }) => {
        if (gone || !canvas.current) return;
        opened = openScene(canvas.current, graph);
        setScene(opened);
      })
      .catch(() => setFailed(true));
    return () => {
      gone = true;
      opened?.close();
      setScene(null);
    };
  }, [graph]);
  useEffect(() => {
    const of = (kind: string) => new Set((marked?.places ?? []).filter((each) => each.kind === kind).map(({ index }) => index));
    scene?.mark(of('strut'), of('node'));
  }, [scene, marked]);
  useEffect(() => scene?.pose(pose?.xyz ?? null, pose?.shade), [scene, pose]);

  const dragged = (event: PointerEvent) => {
    if (event.buttons) scene?.turn(event.movementX / 120, event.movementY / 120);
  };
  const keys: Record<string, () => void> = {
    ArrowLeft: () => scene?.turn(-TURN, 0),
    ArrowRight: () => scene?.turn(TURN, 0),
    ArrowUp: () => scene?.turn(0, TURN),
    ArrowDown: () => scene?.turn(0, -TURN),
    '+': () => scene?.zoom(0.9),
    '-': () => scene?.zoom(1.1),
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
