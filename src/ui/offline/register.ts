/**
 * Let the browser keep the page, so that it opens without a connection from the second visit on. Where that is not possible
 * (no secure connection, a private window) the page is fetched each time.
 */
export function keepPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  window.addEventListener('load', () => {
    navigator.serviceWorker.register('./service-worker.js', { updateViaCache: 'none' }).catch(() => {});
  });
}
