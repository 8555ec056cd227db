// Escape pressed twice within a second does what the Hide button does, and empties the page first.
(() => {
  "use strict";
  const form = document.getElementById("hide");
  if (!form) return;
  let last = -Infinity;
  addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const quick = event.timeStamp - last < 1000;
    last = event.timeStamp;
    if (!quick) return;
    document.title = "";
    form.hidden = true;
    document.body.replaceChildren(form);
    form.submit();
  });
})();
