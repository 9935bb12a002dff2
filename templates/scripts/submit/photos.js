// Photos drawn anew from their pixels: place, time, camera and every other note stay behind.
import { make } from "../numbers.js";
import { save } from "./sending.js";

const LONGEST_SIDE = 1600;
const MOST_BYTES = 40e6;
const MOST_PIXELS = 120e6;
const QUALITY = 0.85;
const TYPES = ["image/jpeg", "image/png", "image/webp"];

const drawn = async (file) => {
  if (!TYPES.includes(file.type)) throw new Error("is not a JPEG, PNG or WebP photo");
  if (file.size > MOST_BYTES) throw new Error("is larger than 40 MB");
  const picture = await createImageBitmap(file);
  const { width, height } = picture;
  if (width * height > MOST_PIXELS) throw new Error("has more than 120 million pixels");
  const scale = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  const canvas = make("canvas", {
    width: Math.max(1, Math.round(width * scale)),
    height: Math.max(1, Math.round(height * scale)),
  });
  const brush = canvas.getContext("2d");
  brush.fillStyle = "white";
  brush.fillRect(0, 0, canvas.width, canvas.height);
  brush.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return canvas;
};

const bytesOf = (canvas) =>
  new Promise((done, failed) => {
    canvas.toBlob((blob) => (blob ? done(blob) : failed(new Error("cannot be written"))), "image/jpeg", QUALITY);
  });

export const photoName = (text) => {
  const bare = text.toLowerCase().replace(/\.[a-z0-9]+$/, "").replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
  return `${bare.slice(0, 60).replace(/-+$/, "") || "photo"}.jpg`;
};

// Shows each photo chosen as it will be sent, with a button that saves it.
export const startPhotos = (input, list, tell, chosen) => {
  input.addEventListener("change", async () => {
    for (const file of [...input.files]) {
      try {
        const canvas = await drawn(file);
        const blob = await bytesOf(canvas);
        const name = photoName(file.name);
        canvas.setAttribute("role", "img");
        canvas.setAttribute("aria-label", `${name}, as it will be sent`);
        canvas.className = "submit-photo";
        const told = `${name}: ${canvas.width} × ${canvas.height}, ${Math.max(1, Math.round(blob.size / 1000))} kB, without place or time`;
        const button = make("button", { type: "button", class: "button" }, `Save ${name}`);
        button.addEventListener("click", () => save(name, blob));
        list.append(make("li", {}, canvas, make("p", {}, told), button));
        chosen(name);
      } catch (error) {
        tell(`${file.name} ${error.name === "Error" ? error.message : "cannot be read as a photo"}.`);
      }
    }
    input.value = "";
  });
};
