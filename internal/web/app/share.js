// Handing files on: by the phone's own sheet where it has one, and always as a download.

// canShare says whether the phone can hand on such a file.
export const canShare = file => Boolean(navigator.canShare?.({ files: [file] }));

// fileOf is a file of text or bytes.
export const fileOf = (name, type, content) => new File([content], name, { type });

// share opens the phone's sheet with a file and what is said beside it: "shared", or "not"
// where its owner closed it.
export async function share(file, text = "") {
  try {
    await navigator.share({ files: [file], title: file.name, ...(text && { text }) });
    return "shared";
  } catch {
    return "not";
  }
}

// save keeps a file where the browser keeps what is downloaded.
export function save(file) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
