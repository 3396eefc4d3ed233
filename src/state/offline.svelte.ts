/** Whether the app is kept for when there is no network, and whether a newer one waits. */

/** 'kept': everything that it needs is on this computer. 'newer': as well, and a newer build waits to be begun with. */
export type OfflineStatus = 'asking' | 'kept' | 'newer' | 'no';

/** What is needed of the browser. */
type Container = Pick<ServiceWorkerContainer, 'register'>;

/** One a page. */
export class Offline {
  status: OfflineStatus = $state('asking');

  /**
   * To be called once the page is at rest: a few hundred kilobytes are fetched. Never rejects.
   * @param container null where the browser has none, or the page is not served securely
   */
  keep = async (
    container: Container | null = (navigator as { serviceWorker?: Container }).serviceWorker ?? null,
  ): Promise<void> => {
    if (!container) {
      this.status = 'no';
      return;
    }
    try {
      const registration = await container.register('./serviceWorker.js', { updateViaCache: 'none' });
      const look = (worker: ServiceWorker | null): void => {
        if (!worker) return;
        const settle = (): void => this.#settle(registration);
        worker.addEventListener('statechange', settle);
        settle();
      };
      registration.addEventListener('updatefound', () => look(registration.installing));
      look(registration.installing ?? registration.waiting ?? registration.active);
    } catch {
      this.status = 'no';
    }
  };

  #settle({ installing, waiting, active }: ServiceWorkerRegistration): void {
    if (waiting && active) this.status = 'newer';
    else if (active) this.status = 'kept';
    else if (!installing && !waiting) this.status = 'no';
  }
}
