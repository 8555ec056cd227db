// What is written without a signal waits here, sealed to the site's public key, and is sent once.
(() => {
  "use strict";
  // On a plain line there are neither workers nor seals: forms are posted as without a script.
  if (!isSecureContext || !navigator.serviceWorker || !navigator.locks) return;
  const find = (what) => document.querySelector(what);
  const strip = find("#outbox"), seal = find("#seal"), leave = find("#leave");
  const base64 = (bytes) => btoa(String.fromCharCode(...new Uint8Array(bytes)));
  const bytes = (text) => new TextEncoder().encode(text);

  const open = () => new Promise((done, fail) => {
    const asked = indexedDB.open("outbox", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "key" });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  const store = async (mode, act) => {
    const base = await open();
    try {
      return await new Promise((done, fail) => {
        const turn = base.transaction("entries", mode, { durability: "strict" });
        const asked = act(turn.objectStore("entries"));
        turn.oncomplete = () => done(asked.result);
        turn.onerror = turn.onabort = () => fail(turn.error);
      });
    } finally {
      base.close();
    }
  };
  const put = (entry) => store("readwrite", (rows) => rows.put(entry));
  const all = async () =>
    (await store("readonly", (rows) => rows.getAll())).sort((a, b) => a.at - b.at);

  const say = async (...said) => {
    const waiting = await all();
    if (waiting.length) said.push("waiting");
    if (waiting.some((entry) => entry.kept)) said.push("kept");
    strip.querySelector("b").textContent = waiting.length;
    for (const part of strip.querySelectorAll("[data-say]"))
      part.hidden = !said.includes(part.dataset.say);
    strip.hidden = !said.length;
  };

  // A fresh key for each entry, itself sealed: this telephone cannot open it again.
  const closed = async (key, said) => {
    const rsa = { name: "RSA-OAEP", hash: "SHA-256" };
    const spki = Uint8Array.from(atob(seal.dataset.key), (sign) => sign.charCodeAt(0));
    const site = await crypto.subtle.importKey("spki", spki, rsa, false, ["encrypt"]);
    const fresh = crypto.getRandomValues(new Uint8Array(32));
    const aes = await crypto.subtle.importKey("raw", fresh, "AES-GCM", false, ["encrypt"]);
    const iv = crypto.getRandomValues(new Uint8Array(12));
    const how = { name: "AES-GCM", iv, additionalData: bytes(key) };
    return {
      to: seal.dataset.to,
      wrapped: base64(await crypto.subtle.encrypt(rsa, site, fresh)),
      nonce: base64(iv),
      closed: base64(await crypto.subtle.encrypt(how, aes, bytes(JSON.stringify(said)))),
    };
  };

  // One tab at a time; an entry goes from here only when the site has said that it has it.
  const send = () => navigator.locks.request("outbox", { ifAvailable: true }, async (lock) => {
    const waiting = lock ? (await all()).filter((entry) => !entry.kept) : [];
    if (!waiting.length) return say();
    const said = [];
    try {
      const hello = await fetch("/hello/", { cache: "no-store", redirect: "error" });
      if (!hello.ok) return say(...(hello.status === 401 ? ["out"] : []));
      const headers = { "X-CSRFToken": (await hello.json()).token };
      for (const { key, sealed, at } of waiting) {
        const body = JSON.stringify({ key, sealed, now: new Date().toISOString() });
        const sent = await fetch("/outbox/send/", { method: "POST", headers, body, redirect: "error" });
        if (sent.status === 400) await put({ key, sealed, at, kept: true });
        else if (!sent.ok) break;
        else {
          said.push((await sent.json()).state === "done" ? "sent" : "look");
          await store("readwrite", (rows) => rows.delete(key));
        }
      }
    } catch {
      // No signal: later.
    }
    return say(...said);
  });

  const keep = async (form) => {
    const key = crypto.randomUUID(), at = Date.now();
    const written = { written_at: new Date(at).toISOString(), known_at: seal.dataset.at };
    const sealed = await closed(key, { ...Object.fromEntries(new FormData(form)), ...written });
    await put({ key, at, sealed });
  };
  const dates = () => {
    if (!seal || "fixed" in seal.dataset) return;
    const here = new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString();
    for (const field of seal.querySelectorAll("[name=day], [name=day_meant]")) field.value = here.slice(0, 10);
    for (const field of seal.querySelectorAll("[name=hour]")) field.value = here.slice(11, 16);
  };

  let busy = null;
  for (const form of seal?.dataset.key ? seal.querySelectorAll("form") : [])
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (busy) return; // pressed twice
      // Hide waits for it.
      busy = globalThis.keeping = keep(form);
      busy.then(
        () => {
          busy = null;
          form.reset();
          dates();
          form.querySelector("input:not([type=hidden])").focus();
          navigator.storage?.persist?.();
          return say().then(send);
        },
        () => {
          busy = null;
          return navigator.onLine ? form.submit() : say("full");
        },
      );
    });

  // Signing out leaves nothing on the telephone; what waits is sent first, or asked about.
  leave?.addEventListener("submit", async (event) => {
    event.preventDefault();
    await send();
    if ((await all()).length && !confirm(leave.dataset.ask)) return;
    for (const worker of await navigator.serviceWorker.getRegistrations()) await worker.unregister();
    for (const name of await caches.keys()) await caches.delete(name);
    await new Promise((done) => {
      const gone = indexedDB.deleteDatabase("outbox");
      gone.onsuccess = gone.onerror = gone.onblocked = done;
    });
    leave.submit();
  });

  dates();
  send();
  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => document.hidden || send());
  setInterval(send, 30000);
  if (find("#hide")) navigator.serviceWorker.register("/sw.js").catch(() => null);
})();
