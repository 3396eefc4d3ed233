/** How the tests start Chromium: with nothing on it but our own page. */
import { findChromium } from '../../../.ci/programs.mjs';

/**
 * What a window of the browser loads for itself, pages beneath its address field above all: every test opens a window, and
 * these took longer than our page. From AimEnabled on it is the driver's own list, whose place this one takes.
 */
const NOT_OURS = [
  'PreloadTopChromeWebUI',
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'WebUIOmniboxFullPopup',
  'AimEnabled',
  'OptimizationHints',
  'NetworkTimeServiceQuerying',
  'PreconnectToSearch',
  'MediaRouter',
  'PaintHolding',
  'HttpsUpgrades',
  'HttpsFirstBalancedModeAutoEnable',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'ThirdPartyStoragePartitioning',
  'AvoidCorsURLLoaderRestartOnRedirect',
];

/** How far Chromium compiles what a page runs: what is measured in time has it as everybody has. */
export type Compiler = 'as it comes' | 'without the last stage';

/**
 * The last stage of compiling is a quarter of what a fresh page costs (1.2 of 4.5 s of processor time) and pays only where
 * the same is computed for seconds; figures are the same to the bit.
 */
const WITHOUT_THE_LAST = '--js-flags=--no-turbofan';

/** A function, since it may install what it finds missing. */
export const launchOptions = (compiler: Compiler = 'as it comes') => ({
  executablePath: findChromium(),
  headless: true,
  // The tests may run as root; nothing but our own page is opened.
  chromiumSandbox: false,
  args: [
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    `--disable-features=${NOT_OURS.join(',')}`,
    ...(compiler === 'as it comes' ? [] : [WITHOUT_THE_LAST]),
  ],
});
