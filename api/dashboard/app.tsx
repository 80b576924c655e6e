import './style.css';
import { render } from 'preact';
import { useState } from 'preact/hooks';
import { ask, keepKey, keptKey, type Refused } from './client.ts';
import { Problem } from './parts/shown.tsx';
import { usePlace } from './route.ts';
import { AcceptanceScreen } from './screens/acceptance.tsx';
import { Batches } from './screens/batches.tsx';
import { Calibrations } from './screens/calibrations.tsx';
import { Design } from './screens/design.tsx';
import { Designs } from './screens/designs.tsx';
import { EvaluationScreen } from './screens/evaluation.tsx';
import { History } from './screens/history.tsx';
import { NewVersion } from './screens/new-version.tsx';
import { Reevaluations } from './screens/reevaluations.tsx';
import { Searches } from './screens/searches.tsx';
import { TestHouse } from './screens/test-house.tsx';
import { Trays } from './screens/trays.tsx';

/** `holds`: screens that are reached from this one. */
const SCREENS: readonly { path: string; name: string; holds?: readonly string[] }[] = [
  { path: '', name: 'Designs', holds: ['designs'] },
  { path: 'new', name: 'New' },
  { path: 'evaluations', name: 'Evaluations', holds: ['reevaluations'] },
  { path: 'batches', name: 'Batches' },
  { path: 'searches', name: 'Searches' },
  { path: 'trays', name: 'Trays' },
  { path: 'test-house', name: 'Test house', holds: ['acceptances', 'calibrations'] },
];

function Screen() {
  const { parts, query } = usePlace();
  const [first, second] = parts;
  if (first === 'designs' && second) return <Design id={second} />;
  if (first === 'evaluations' && second) return <EvaluationScreen id={second} query={query} />;
  if (first === 'evaluations') return <History key={query.toString()} query={query} />;
  if (first === 'reevaluations') return <Reevaluations id={second ?? null} />;
  if (first === 'batches') return <Batches id={second ?? null} query={query} />;
  if (first === 'calibrations') return <Calibrations id={second ?? null} />;
  if (first === 'acceptances' && second) return <AcceptanceScreen id={second} />;
  if (first === 'test-house') return <TestHouse />;
  if (first === 'searches') return <Searches id={second ?? null} query={query} />;
  if (first === 'trays') return <Trays id={second ?? null} />;
  if (first === 'new') return <NewVersion query={query} />;
  return <Designs />;
}

function App() {
  const { parts } = usePlace();
  const [known, setKnown] = useState(keptKey() !== null);
  if (!known) return <Door onOpen={() => setKnown(true)} />;
  const at = parts[0] ?? '';
  return (
    <>
      <header>
        <a class="skip" href="#main">
          To the content
        </a>
        <strong class="wordmark">strutwright</strong>
        <nav aria-label="Main">
          {SCREENS.map(({ path, name, holds = [] }) => (
            <a key={path} href={`#/${path}`} aria-current={at === path || holds.includes(at) ? 'page' : undefined}>
              {name}
            </a>
          ))}
        </nav>
      </header>
      <main id="main">
        <Screen />
      </main>
    </>
  );
}

/** Asks for a key once in a tab, and tries it. */
function Door({ onOpen }: { onOpen: () => void }) {
  const [error, setError] = useState<Refused | null>(null);
  const open = async (event: SubmitEvent) => {
    event.preventDefault();
    keepKey(String(new FormData(event.target as HTMLFormElement).get('key')).trim());
    await ask('/v1/designs?limit=1').then(onOpen, setError);
  };
  return (
    <main class="door">
      <h1>strutwright</h1>
      <p>Printed strut lattices, computed before they are printed.</p>
      <form onSubmit={open}>
        <label>
          API key
          <input name="key" type="password" autocomplete="off" required aria-describedby="key-help" />
        </label>
        <p id="key-help">The first one is in the service’s data folder, in the file first-key. It stays in this tab.</p>
        <button type="submit">Open</button>
      </form>
      {error && <Problem error={error} />}
    </main>
  );
}

render(<App />, document.getElementById('app')!);
