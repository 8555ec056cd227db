// Hide, by its button or by Escape pressed twice within a second: the page is emptied first.
(() => {
  "use strict";
  const form = document.getElementById("hide");
  if (!form) return;
  const hide = () => {
    document.title = "";
    form.hidden = true;
    document.body.replaceChildren(form);
    // An entry that is just being sealed is kept before the page goes.
    const go = () => form.submit();
    if (globalThis.keeping) globalThis.keeping.then(go, go);
    else go();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    hide();
  });
  let last = -Infinity;
  addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const quick = event.timeStamp - last < 1000;
    last = event.timeStamp;
    if (quick) hide();
  });
})();
