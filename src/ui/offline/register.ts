/** Keeping the page fetches every file: that waits until the page is there, ms after its loading. Our choice. */
const WAIT_MS = 2000;

/**
 * Let the browser keep the page, so that it opens without a connection from the second visit on. Where that is not possible
 * (no secure connection, a private window) the page is fetched each time.
 */
export function keepPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  const keep = (): void => {
    navigator.serviceWorker.register('./service-worker.js', { updateViaCache: 'none' }).catch(() => {});
  };
  window.addEventListener('load', () => setTimeout(keep, WAIT_MS));
}
