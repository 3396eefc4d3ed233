/** Constants of nature; see there. */
export { MU0 } from '../../shape/constants.ts';
