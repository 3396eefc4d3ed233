/** Where the built app lies; each worker serves it and has a Chromium of its own (app.ts, browser.ts). */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { root } from '../../../.ci/setup.mjs';
import type { Compiler } from './launch.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The folder of the built app. */
    dist: string;
    /** That of the project's Chromium; as it comes unless the project says otherwise. */
    compiler?: Compiler;
  }
}

export default function start(project: TestProject): void {
  const dist = process.env['LODETONE_DIST'] ?? join(root, 'dist');
  if (!existsSync(join(dist, 'index.html'))) {
    throw new Error(`${dist} must hold the built app; run npm run build first.`);
  }
  project.provide('dist', dist);
}
