/** Lets the built page open without a network, from the second time on. In development nothing is kept. */

if (import.meta.env.PROD && 'serviceWorker' in navigator)
  addEventListener('load', () => {
    // Private windows and plain-http hosts refuse it; the page works all the same, with a network.
    navigator.serviceWorker.register('./service-worker.js').catch(() => undefined);
  });
