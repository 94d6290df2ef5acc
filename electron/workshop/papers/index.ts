/** Use-cases of how papers look and speak: language, logo, accent, account, structured invoices. */
import type { paperEndpoints } from '../../api/papers.ts';
import type { Handlers } from '../handlers.ts';
import { removeLogo, setLogo } from './logo.ts';
import { sample } from './sample.ts';
import { paperSettings, savePapers, saveTexts } from './settings.ts';
import { structured, structuredState } from './structured/index.ts';

/** Which use-case answers which call. */
export const paperHandlers: Pick<Handlers, keyof typeof paperEndpoints> = {
  'papers.settings': (ctx) => paperSettings(ctx),
  'papers.save': savePapers,
  'papers.setLogo': setLogo,
  'papers.removeLogo': { run: (ctx) => removeLogo(ctx) },
  'papers.saveTexts': { run: (ctx, input) => saveTexts(ctx, input) },
  'papers.sample': (ctx, input) => sample(ctx, input),
  'papers.structuredState': structuredState,
  'papers.structured': structured,
};
