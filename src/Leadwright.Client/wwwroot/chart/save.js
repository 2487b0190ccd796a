// Hands a file that the page made to the browser, to be saved.
export function save(blob, fileName) {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}
