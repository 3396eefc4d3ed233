// npm run predict -- sheet.json --out folder: the prediction from a terminal; arguments and exit code pass through.
import { join } from 'node:path';
import { root, run, setup } from './setup.mjs';

setup();
// Relative paths mean the folder that npm was called from; everything else is given in full.
const cwd = process.env['INIT_CWD'] ?? process.cwd();
const script = join(root, 'src/cli/predict.ts');
const loader = import.meta.resolve('tsx');
process.exit(run(process.execPath, ['--import', loader, script, ...process.argv.slice(2)], { cwd }));
