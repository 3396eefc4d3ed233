/** `npm run predict`: see main.ts. */
import { main } from './main.ts';

process.exitCode = main(process.argv.slice(2), { out: console.log, err: console.error });
