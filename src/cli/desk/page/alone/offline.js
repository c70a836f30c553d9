// Where the page is served from somewhere: the browser keeps it, and shows it again without a network.

const kept = "cardwright-page";

self.addEventListener("install", (event) => event.waitUntil(keep().then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

// A newer page counts, where there is a network; the one that was kept, where there is none.
self.addEventListener("fetch", (event) => {
  if (event.request.mode !== "navigate") { return; }
  event.respondWith(fetch(event.request).then(keepAnswer, () => caches.match(event.request, { ignoreSearch: true })));
});

async function keep() { return (await caches.open(kept)).add("cardwright.html"); }

async function keepAnswer(answer) {
  if (answer.ok) { (await caches.open(kept)).put(answer.url, answer.clone()); }
  return answer;
}
