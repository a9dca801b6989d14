// Photos: files are prepared here one after the other, because a picture as a camera makes it must never be in memory twice; and
// pictures on the page get their bytes here, because an address of bytes has to be released again.
"use strict";

(() => {
  const side = 2048; // longest side of a stored photo, pixels
  const thumbSide = 320;
  const quality = 0.85;
  const mostPixels = 100e6; // a picture of more would not fit into a phone's memory, 4 bytes a pixel
  const mostCanvas = 16e6; // pixels of the largest drawing surface every browser grants
  const mostPlain = 10 * 1024 * 1024; // bytes of a file kept as it is
  const mostOffers = 20; // files waiting for the person's answer

  const held = new Map(); // number -> files chosen and not yet dealt with
  let last = 0;

  const hold = (files) => {
    held.set(++last, Array.from(files));
    return last;
  };

  const offer = (file) => {
    const number = hold([file]);
    for (const old of [...held.keys()].filter((n) => held.get(n).offered).slice(0, -mostOffers)) held.delete(old);
    held.get(number).offered = true;
    return number;
  };

  const sized = (bytes) => bytes < 1024 * 1024 ? `${Math.max(1, Math.round(bytes / 1024))} kB` : `${(bytes / 1024 / 1024).toFixed(1)} MB`;

  // What a file is by its first bytes, whatever its name says. media is empty for what is no picture.
  const sniff = (b) => {
    const ascii = (from, to) => String.fromCharCode(...b.subarray(from, to));
    if (b[0] === 0xff && b[1] === 0xd8) return { is: "a JPEG picture", media: "image/jpeg" };
    if (ascii(1, 4) === "PNG") return { is: "a PNG picture", media: "image/png" };
    if (ascii(0, 3) === "GIF") return { is: "a GIF picture", media: "image/gif" };
    if (ascii(0, 4) === "RIFF" && ascii(8, 12) === "WEBP") return { is: "a WebP picture", media: "image/webp" };
    if (ascii(4, 8) === "ftyp") {
      const brand = ascii(8, 12);
      if (/^(hei|hev|mif1|msf1)/.test(brand)) return { is: "an HEIC picture", media: "image/heic" };
      return /^avi/.test(brand) ? { is: "an AVIF picture", media: "image/avif" } : { is: "a film", media: "" };
    }
    if (ascii(0, 4) === "II*\0" || ascii(0, 4) === "MM\0*") return { is: "a TIFF or raw picture", media: "image/tiff" };
    if (ascii(0, 4) === "%PDF") return { is: "a PDF document", media: "" };
    if (ascii(0, 2) === "PK") return { is: "a zip file", media: "" };
    return { is: isText(b) ? "a text" : "nothing known here", media: "" };
  };

  const isText = (b) => {
    if (b.subarray(0, 512).some((c) => c < 9 || (c > 13 && c < 32))) return false;
    try {
      new TextDecoder("utf-8", { fatal: true }).decode(b.subarray(0, 512), { stream: true });
      return true;
    } catch {
      return false;
    }
  };

  // Pixels as the file's head tells them, 0 when it does not: known before the picture is unpacked.
  const announced = (b) => {
    const two = (i) => b[i] * 256 + b[i + 1];
    if (b[1] === 0x50) return (two(16) * 65536 + two(18)) * (two(20) * 65536 + two(22));
    if (b[0] !== 0xff) return 0;
    for (let i = 2; i + 9 < b.length && b[i] === 0xff; i += 2 + two(i + 2)) {
      const start = b[i + 1] >= 0xc0 && b[i + 1] <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(b[i + 1]);
      if (start) return two(i + 5) * two(i + 7);
    }
    return 0;
  };

  // The picture, turned as the camera was held. Browsers that refuse the option do it by themselves for an image element.
  const decode = async (file) => {
    try {
      const map = await createImageBitmap(file, { imageOrientation: "from-image" });
      return { source: map, w: map.width, h: map.height, done: () => map.close() };
    } catch {
      const image = new Image();
      const address = URL.createObjectURL(file);
      image.src = address;
      try {
        await image.decode();
      } catch (error) {
        URL.revokeObjectURL(address);
        throw error;
      }
      return { source: image, w: image.naturalWidth, h: image.naturalHeight, done: () => URL.revokeObjectURL(address) };
    }
  };

  const release = (canvas) => { canvas.width = canvas.height = 0; };

  // Draws a picture smaller, by halves: in one step fine lines would be lost.
  const shrunk = (source, w, h, most) => {
    const scale = Math.min(1, most / Math.max(w, h));
    const toW = Math.max(1, Math.round(w * scale));
    const toH = Math.max(1, Math.round(h * scale));
    for (let canvas = null; ;) {
      const step = Math.min(1, Math.max(toW / w, Math.min(0.5, Math.sqrt(mostCanvas / (w * h)))));
      const nextW = step * w <= toW ? toW : Math.round(w * step);
      const nextH = step * w <= toW ? toH : Math.round(h * step);
      const next = document.createElement("canvas");
      next.width = nextW;
      next.height = nextH;
      const pen = next.getContext("2d");
      pen.fillStyle = "#fff"; // behind what is transparent
      pen.fillRect(0, 0, nextW, nextH);
      pen.imageSmoothingQuality = "high";
      pen.drawImage(source, 0, 0, nextW, nextH);
      if (canvas) release(canvas);
      canvas = source = next;
      w = nextW;
      h = nextH;
      if (w === toW) return canvas;
    }
  };

  // The canvas as JPEG without anything beside the picture: some browsers write a block of their own.
  const packed = async (canvas, q) => {
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", q));
    if (!blob) throw new Error("the browser could not pack the picture");
    const b = new Uint8Array(await blob.arrayBuffer());
    const parts = [b.subarray(0, 2)];
    let i = 2;
    while (i + 4 <= b.length && b[i] === 0xff && b[i + 1] !== 0xda) {
      const end = i + 2 + b[i + 2] * 256 + b[i + 3];
      const told = b[i + 1] === 0xfe || (b[i + 1] >= 0xe1 && b[i + 1] <= 0xef && ![0xe2, 0xee].includes(b[i + 1])); // not colour
      if (!told) parts.push(b.subarray(i, end));
      i = end;
    }
    parts.push(b.subarray(i));
    return new Uint8Array(await new Blob(parts).arrayBuffer());
  };

  const allowed = "allowed are pictures this browser can show, as JPEG, PNG or WebP";

  // A file that is not taken, with the reason; a small enough one may still be attached as it is.
  const refused = (file, is, why) => {
    const fits = file.size > 0 && file.size <= mostPlain;
    const rest = fits ? "" : ` It cannot be attached as a file either: that takes up to ${sized(mostPlain)}.`;
    return { name: file.name, why: `read ${is}, ${sized(file.size)}; ${allowed}; ${why}.${file.size > 0 ? rest : ""}`, offer: fits ? offer(file) : 0 };
  };

  const prepare = async (file) => {
    if (file.size === 0) return refused(file, "an empty file", "there is nothing in it");
    const head = new Uint8Array(await file.slice(0, 512 * 1024).arrayBuffer());
    const kind = sniff(head);
    const pixels = announced(head);
    if (pixels > mostPixels) {
      return refused(file, `${kind.is} of ${Math.round(pixels / 1e6)} megapixels`, `one of more than ${mostPixels / 1e6} megapixels would not fit into memory`);
    }
    let picture;
    try {
      picture = await decode(file);
    } catch {
      const why = kind.media ? "this browser cannot open it, so it can neither be made smaller nor freed of place and camera" : "there is no picture in it";
      return refused(file, kind.is, why);
    }
    try {
      const full = shrunk(picture.source, picture.w, picture.h, side);
      picture.done();
      const result = { name: file.name, w: full.width, h: full.height, type: "image/jpeg", full: await packed(full, quality) };
      const thumb = shrunk(full, full.width, full.height, thumbSide);
      release(full);
      result.thumb = await packed(thumb, 0.8);
      release(thumb);
      return result;
    } catch (error) {
      return refused(file, kind.is, `making it smaller failed (${error.message}); there may be too little memory`);
    }
  };

  const plain = async (file) => {
    const bytes = new Uint8Array(await file.arrayBuffer());
    return { name: file.name, w: 0, h: 0, type: sniff(bytes).media || "application/octet-stream", full: bytes };
  };

  // The next file of a choice, ready to be stored, or null after the last one.
  const next = async (number, asItIs) => {
    const file = held.get(number)?.shift();
    if (!file) {
      held.delete(number);
      return null;
    }
    try {
      return asItIs ? await plain(file) : await prepare(file);
    } catch (error) {
      return { name: file.name, why: `this file could not be read (${error.message}); choose it again`, offer: 0 };
    }
  };

  // Pictures on the page. Each address of bytes is shared by all pictures of one name and released with the last of them.
  let read = null; // asks the program for the bytes of a name
  const found = document.getElementsByClassName("photo-img");
  const watched = new Set();
  const open = new Map(); // name -> { users, address }

  const show = (image) => {
    const name = image.dataset.photo;
    if (image.shownName === name || !read) return;
    hide(image);
    if (!name) return;
    image.shownName = name;
    let entry = open.get(name);
    if (!entry) {
      entry = { users: new Set(), address: "" };
      open.set(name, entry);
      read(name, (bytes) => arrived(name, entry, bytes));
    }
    entry.users.add(image);
    if (entry.address) image.src = entry.address;
  };

  const arrived = (name, entry, bytes) => {
    if (open.get(name) !== entry) return; // nobody looks any more
    if (bytes) entry.address = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
    for (const image of entry.users) {
      image.dataset.photoState = bytes ? "shown" : "missing";
      if (bytes) image.src = entry.address;
      image.addEventListener("load", magnify, { once: true });
    }
    if (!bytes) open.delete(name); // asked again when it comes into view again
  };

  const hide = (image) => {
    const name = image.shownName;
    if (!name) return;
    image.shownName = "";
    image.removeAttribute("src");
    delete image.dataset.photoState;
    const entry = open.get(name);
    if (!entry?.users.delete(image) || entry.users.size > 0) return;
    open.delete(name);
    if (entry.address) URL.revokeObjectURL(entry.address);
  };

  const inSight = new IntersectionObserver((list) => {
    for (const { target, isIntersecting } of list) isIntersecting && target.isConnected ? show(target) : hide(target);
  }, { rootMargin: "300px" });

  const look = () => {
    for (const image of watched) {
      if (image.isConnected) continue;
      inSight.unobserve(image);
      hide(image);
      watched.delete(image);
    }
    for (const image of found) {
      if (!watched.has(image)) {
        watched.add(image);
        inSight.observe(image);
      } else if (image.shownName && image.shownName !== image.dataset.photo) {
        show(image);
      }
    }
  };
  new MutationObserver(look).observe(document.documentElement, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-photo"] });

  // Picking points on a photo: the finger hides what it points at, so a magnifier shows it beside the finger.
  const shownAround = 96; // pixels of the photo across the magnifier
  const reach = 28; // CSS pixels from a point within which a finger takes hold of it
  let drag = null;

  const stageOf = (target) => target.closest?.(".photo-stage:has(.photo-over)");

  // Where a finger is, in pixels of the photo, and how many of them a pixel of the screen covers.
  const placeOf = (stage, event) => {
    const map = stage.querySelector("svg.photo-marks").getScreenCTM();
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(map.inverse());
    return { x: at.x, y: at.y, grain: 1 / map.a };
  };

  // The point a finger takes hold of, -1 for the one in hand. One not yet set is never passed over: the edges of a narrow bead are
  // closer together than a finger is wide.
  const heldPoint = (stage, at) => {
    const hand = Number(stage.dataset.hand);
    const points = (stage.dataset.places ?? "").split(";").filter(Boolean).map((one) => one.split(" ").map(Number));
    const near = points.map(([point, x, y]) => ({ point, far: Math.hypot(x - at.x, y - at.y) / at.grain })).filter((one) => one.far <= reach);
    if (!points.some(([point]) => point === hand) || near.length === 0 || near.some((one) => one.point === hand)) return -1;
    return near.sort((a, b) => a.far - b.far)[0].point;
  };

  const draw = (stage, x, y) => {
    const loupe = stage.querySelector("canvas");
    const image = stage.querySelector("img");
    if (!loupe || !image?.naturalWidth) return;
    const size = loupe.width;
    const scale = size / shownAround;
    const pen = loupe.getContext("2d");
    pen.fillStyle = "#000";
    pen.fillRect(0, 0, size, size);
    pen.imageSmoothingEnabled = false;
    pen.drawImage(image, x - shownAround / 2, y - shownAround / 2, shownAround, shownAround, 0, 0, size, size);
    for (const [style, width] of [["#000", 5], ["#fff", 2]]) {
      pen.strokeStyle = style;
      pen.lineWidth = width;
      pen.beginPath();
      const gap = 4 * scale; // the middle stays free
      for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        pen.moveTo(size / 2 + dx * gap, size / 2 + dy * gap);
        pen.lineTo(size / 2 + dx * size, size / 2 + dy * size);
      }
      pen.stroke();
    }
    loupe.dataset.side = x < image.naturalWidth / 2 ? "right" : "left";
    loupe.dataset.drawn = "yes";
  };

  // The point in hand is magnified also while it is moved by buttons.
  const magnify = () => {
    for (const stage of document.getElementsByClassName("photo-stage")) {
      const loupe = stage.querySelector("canvas");
      if (!loupe || drag) continue;
      if (loupe.dataset.x === undefined) delete loupe.dataset.drawn;
      else draw(stage, Number(loupe.dataset.x), Number(loupe.dataset.y));
    }
  };
  new MutationObserver(magnify).observe(document.documentElement, { subtree: true, attributes: true, attributeFilter: ["data-x", "data-y"] });

  document.addEventListener("pointerdown", (event) => {
    const stage = event.isPrimary && event.button === 0 ? stageOf(event.target) : null;
    if (!stage) return;
    const at = placeOf(stage, event);
    drag = { stage, id: event.pointerId, point: heldPoint(stage, at) };
    stage.setPointerCapture(event.pointerId);
    draw(stage, at.x, at.y);
    event.preventDefault();
  });
  document.addEventListener("pointermove", (event) => {
    if (drag?.id !== event.pointerId) return;
    const at = placeOf(drag.stage, event);
    draw(drag.stage, at.x, at.y);
  });
  document.addEventListener("pointerup", (event) => {
    if (drag?.id !== event.pointerId) return;
    const { stage, point } = drag;
    drag = null;
    delete stage.querySelector("canvas").dataset.drawn; // until the program says which point is in hand now
    stage.dispatchEvent(new CustomEvent("photopoint", { detail: { ...placeOf(stage, event), point } }));
    requestAnimationFrame(magnify);
  });
  document.addEventListener("pointercancel", (event) => {
    if (drag?.id !== event.pointerId) return;
    drag = null;
    magnify();
  });

  window.torchsidePhotos = {
    // Takes the files of an input and empties it, so that the same file can be chosen again. 0 when nothing was chosen.
    take: (input) => {
      const number = input.files.length > 0 ? hold(input.files) : 0;
      input.value = "";
      return number;
    },
    next,
    // The program says that it can read: what is in sight already is asked for now.
    serve: (reader) => {
      read = reader;
      for (const image of watched) {
        inSight.unobserve(image);
        inSight.observe(image);
      }
    },
    // For paper: every picture is shown, in sight or not.
    showAll: () => watched.forEach(show),
    addresses: () => [...open.values()].filter((entry) => entry.address).length,
  };
})();
