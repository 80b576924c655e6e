import { readFileSync, statSync } from 'node:fs';

export interface ServerUser {
  name: string;
  uid: number;
  gid: number;
}

/** Accounts that may run the server when we are root, in order of preference; nobody is everywhere. */
const CANDIDATES = ['postgres', 'nobody'];

/**
 * The account the server runs as: null for our own, another one when we are root, which the server refuses to run as. Data that is there
 * keeps its owner.
 */
export function serverUser(clusterDir: string): ServerUser | null {
  if (process.getuid?.() !== 0) return null;
  const accounts = readAccounts();
  const owner = statSync(clusterDir, { throwIfNoEntry: false })?.uid;
  const kept = accounts.find(({ uid }) => uid === owner && uid !== 0);
  const chosen = kept ?? CANDIDATES.flatMap((name) => accounts.find((account) => account.name === name) ?? []).at(0);
  if (chosen) return chosen;
  throw new Error(
    `The embedded database cannot run as root and needs one of these accounts: ${CANDIDATES.join(', ')}. Start as an ordinary user instead.`,
  );
}

function readAccounts(): ServerUser[] {
  return readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'))
    .filter((fields) => fields.length >= 4)
    .map(([name, , uid, gid]) => ({ name, uid: Number(uid), gid: Number(gid) }));
}
