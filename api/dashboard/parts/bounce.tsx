import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { number } from '../words.ts';
import { made } from './files.tsx';
import type { Pose } from './lattice-view.tsx';

/** bounce.json: one bounce at equally spaced times. */
interface Film {
  orientation: string;
  outcome: string;
  contactTimeMs: number;
  timesMs: number[];
  nodesMm: number[][];
  strainPct: number[][];
}

/** How long a bounce takes to be shown; it takes milliseconds. */
const SHOWN_MS = 4000;

/** Plays the bounce of an evaluation, or shows a moment of it; asks for its pictures only when somebody wants to see them. */
export function Bounce({ id, onPose }: { id: string; onPose: (pose: Pose | null) => void }) {
  const [film, setFilm] = useState<Film | null>(null);
  const [asked, setAsked] = useState(false);
  const [failed, setFailed] = useState<string | null>(null);
  const load = async () => {
    setAsked(true);
    setFailed(null);
    try {
      setFilm(JSON.parse(await (await made(id, 'bounce.json')).text()) as Film);
    } catch (fault) {
      setFailed((fault as Error).message);
      setAsked(false);
    }
  };
  useEffect(() => () => onPose(null), []);
  if (film) return <Player film={film} onPose={onPose} onClose={() => setFilm(null)} />;
  return (
    <div class="row">
      <button type="button" disabled={asked && !film} onClick={load}>
        {asked ? 'Computing the pictures …' : 'Show the bounce'}
      </button>
      {failed && (
        <span class="fault" role="alert">
          {failed}
        </span>
      )}
    </div>
  );
}

function Player({ film, onPose, onClose }: { film: Film; onPose: (pose: Pose | null) => void; onClose: () => void }) {
  const [at, setAt] = useState(0);
  const [playing, setPlaying] = useState(true);
  // Set at once when somebody picks a moment: a picture that was asked for before must not move it on.
  const held = useRef(false);
  const last = film.timesMs.length - 1;
  const mostPct = useMemo(() => Math.max(...film.strainPct.map((each) => each.reduce((a, b) => Math.max(a, b), 0))), [film]);
  useEffect(() => {
    const strain = film.strainPct[at];
    onPose({ xyz: film.nodesMm[at], shade: (strut) => strain[strut] / mostPct });
  }, [film, at]);
  useEffect(() => {
    if (!playing) return;
    const began = performance.now() - (at / last) * SHOWN_MS;
    let frame = requestAnimationFrame(function next(now) {
      if (held.current) return;
      // a frame may be dated a little before it was asked for
      const wanted = Math.min(last, Math.max(0, Math.floor((last * (now - began)) / SHOWN_MS)));
      setAt(wanted);
      if (wanted < last) frame = requestAnimationFrame(next);
      else setPlaying(false);
    });
    return () => cancelAnimationFrame(frame);
  }, [playing]);
  const play = () => {
    if (at === last) setAt(0);
    held.current = playing;
    setPlaying(!playing);
  };
  const close = () => {
    onPose(null);
    onClose();
  };
  const now = film.strainPct[at].reduce((a, b) => Math.max(a, b), 0);
  return (
    <div class="player">
      <div class="row">
        <button type="button" onClick={play}>
          {playing ? 'Pause' : 'Play'}
        </button>
        <button type="button" onClick={close}>
          As designed
        </button>
        <span class="quiet">
          {film.orientation} down; grey: no strain, red: {number(mostPct, 3)} %
        </span>
      </div>
      <label>
        {film.timesMs[at].toFixed(1)} ms after the touch, largest strain {now.toFixed(1)} %
        <input
          type="range"
          min={0}
          max={last}
          value={at}
          onInput={(event) => {
            held.current = true;
            setPlaying(false);
            setAt(Number(event.currentTarget.value));
          }}
        />
      </label>
    </div>
  );
}
