import { extname } from 'node:path';
import type { Records, StoredFile, StoredFileInfo } from '../prisma/index.ts';
import { fileAnswer } from './file-answer.ts';
import type { Handlers } from './handlers.ts';
import { found } from './refusal.ts';

type Operation = 'listFiles' | 'getFile' | 'listTrayFiles' | 'getTrayFile';

const shown = ({ createdAt, ...info }: StoredFileInfo) => ({ ...info, createdAt: createdAt.toISOString() });

export function fileHandlers({ files, evaluations, designs }: Pick<Records, 'files' | 'evaluations' | 'designs'>): Handlers<Operation> {
  /** `design-version.ext` where the evaluation is of a version, else the evaluation's id with the file's name. */
  const downloadName = async (teamId: string, evaluationId: string, name: string) => {
    const evaluation = await evaluations.get(teamId, evaluationId);
    const design = evaluation?.designId ? await designs.get(teamId, evaluation.designId) : null;
    const slug = design && slugOf(design.name);
    return slug ? `${slug}-${evaluation?.version}${extname(name)}` : `${evaluationId}-${name}`;
  };

  return {
    listFiles: async ({ params, caller }) => {
      const items = found(await files.list(caller.teamId, params.id), 'evaluation');
      return { body: { items: items.map(shown), nextCursor: null } };
    },
    getFile: async ({ params, headers, caller }) => {
      const file = found(await files.get(caller.teamId, params.id, params.name), 'file');
      return named(file, await downloadName(caller.teamId, params.id, file.name), headers);
    },
    listTrayFiles: async ({ params, caller }) => {
      const items = found(await files.listOfTray(caller.teamId, params.id), 'tray');
      return { body: { items: items.map(shown), nextCursor: null } };
    },
    getTrayFile: async ({ params, headers, caller }) => {
      const file = found(await files.getOfTray(caller.teamId, params.id, params.name), 'file');
      return named(file, `${params.id}-${file.name}`, headers);
    },
  };
}

/** The file as it is asked for, to be saved under a name. */
async function named(file: StoredFile, filename: string, headers: Parameters<typeof fileAnswer>[1]) {
  const answer = await fileAnswer(file, headers);
  const described = { 'content-type': file.mediaType, 'content-disposition': `attachment; filename="${filename}"` };
  return { ...answer, headers: { ...described, ...answer.headers } };
}

/** The letters and digits of a name, for a file system: "Größe 1, leicht" gives "grosse-1-leicht". */
const slugOf = (name: string) =>
  name
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 80);
