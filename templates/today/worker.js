// Keeps one empty form and what it needs, so that it opens without a signal. Nothing of anybody.
const NAME = "shell-{{ version }}", FORM = "{{ form }}", AWAY = "{{ away }}", OUT = "{{ out }}", LEFT = "left";
const FILES = [FORM, AWAY, {% for file in files %}"{{ file }}", {% endfor %}];

addEventListener("install", (event) => event.waitUntil((async () => {
  const shell = await caches.open(NAME);
  for (const file of FILES) {
    const answer = await fetch(file, { credentials: "omit", cache: "no-cache" });
    if (!answer.ok || answer.redirected) throw new Error(file);
    await shell.put(file, answer);
  }
  await skipWaiting();
})()));

addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== NAME && name !== LEFT) await caches.delete(name);
  await clients.claim();
})()));

// A way out that could not be told to the site is told before anything else is asked of it.
const leave = async () => {
  const hello = await fetch("/hello/", { cache: "no-store" });
  if (hello.ok) {
    const headers = { "X-CSRFToken": (await hello.json()).token };
    await fetch(OUT, { method: "POST", headers, redirect: "manual" });
  } else if (hello.status !== 401) return;
  await caches.delete(LEFT);
};

const out = async (request) => {
  const answer = await fetch(request).catch(() => null);
  if (answer && answer.status !== 403) return answer;
  await caches.open(LEFT);
  await leave().catch(() => null);
  return caches.match(AWAY);
};

const page = async (request, path) => {
  const slow = new AbortController(), timer = setTimeout(() => slow.abort(), 12000);
  try {
    if (await caches.has(LEFT)) await leave();
    return await fetch(request, { signal: slow.signal });
  } catch {
    return (await caches.match(path === AWAY ? AWAY : FORM)) || Response.error();
  } finally {
    clearTimeout(timer);
  }
};

addEventListener("fetch", (event) => {
  const { request } = event, { pathname, origin } = new URL(request.url);
  if (origin !== location.origin) return;
  if (request.mode === "navigate") {
    if (request.method === "GET") event.respondWith(page(request, pathname));
    else if (pathname === OUT) event.respondWith(out(request));
  } else if (FILES.includes(pathname))
    event.respondWith(caches.match(pathname).then((kept) => kept || fetch(request)));
});
