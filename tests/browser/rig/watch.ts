import type { BrowserContext } from 'playwright-core';

/**
 * Records everything that a healthy page never does: an error on the console, an uncaught exception, a breach of the
 * Content-Security-Policy, a request to anywhere but the served app.
 * @returns the list, which grows while the context lives
 */
export async function watch(context: BrowserContext, address: string): Promise<string[]> {
  const problems: string[] = [];
  context.on('console', (message) => {
    if (message.type() === 'error') problems.push(`console error: ${message.text()}`);
  });
  context.on('weberror', (error) => {
    const thrown = error.error();
    // Where it was thrown says more than what.
    problems.push(`uncaught: ${thrown.message}\n${thrown.stack ?? ''}`);
  });
  context.on('response', (response) => {
    if (response.status() >= 400) problems.push(`${response.status()} for ${response.url()}`);
  });
  // Requests leave the browser before a route is asked, so this sees those that would fail as well.
  await context.route(
    (url) => !isOurs(url.href, address),
    async (route) => {
      problems.push(`request to elsewhere: ${route.request().url()}`);
      await route.abort();
    },
  );
  await context.routeWebSocket(/^/, (socket) => {
    problems.push(`socket to ${socket.url()}`);
  });
  await context.exposeBinding('reportViolation', (_source, text: string) => problems.push(`policy: ${text}`));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const { reportViolation } = window as unknown as { reportViolation: (text: string) => void };
      reportViolation(`${event.effectiveDirective} refused ${event.blockedURI} ${event.sample}`);
    });
  });
  return problems;
}

function isOurs(url: string, address: string): boolean {
  const origin = new URL(address).origin;
  // Blobs are how a page hands over a download; they come from the page itself.
  return url === 'about:blank' || url.startsWith(`${origin}/`) || url.startsWith(`blob:${origin}/`);
}
