// A photograph is shrunk before it is sent, and loses where and by what it was taken.
(() => {
  "use strict";
  const MOST = 2000, QUALITY = 0.7;
  const shrunk = async (file) => {
    if (!/^image\/(jpeg|png|webp)$/.test(file.type)) return file;
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, MOST / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    const paper = canvas.getContext("2d");
    paper.fillStyle = "#fff";
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    return blob ? new File([blob], "scan.jpg", { type: blob.type }) : file;
  };
  for (const input of document.querySelectorAll("input[type=file][data-shrink]"))
    input.addEventListener("change", async () => {
      const presses = input.form.querySelectorAll("button,[type=submit]");
      for (const press of presses) press.disabled = true;
      const sent = new DataTransfer();
      // One that the browser cannot read goes as it is: the site strips it too.
      for (const file of input.files) sent.items.add(await shrunk(file).catch(() => file));
      input.files = sent.files;
      for (const press of presses) press.disabled = false;
    });
})();
