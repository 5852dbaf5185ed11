// Passkeys: the device signs what the server asks. Without this script, and on a
// device that has none, the passphrase is the way in.
const ask = async (path, body) => {
  const answer = await fetch(path, {
    method: "POST", body: body && JSON.stringify(body),
    headers: { Accept: "application/json", "Content-Type": "application/json" },
  });
  const said = await answer.json();
  if (!answer.ok) throw Object.assign(new Error(said.title), { told: said.text });
  return said;
};
for (const box of document.querySelectorAll("[data-passkey]")) {
  if (!window.PublicKeyCredential?.parseCreationOptionsFromJSON) break;
  box.hidden = false;
  const button = box.querySelector("button"), line = box.querySelector("[role=status]");
  button.addEventListener("click", async () => {
    button.disabled = true;
    line.textContent = "";
    try {
      const path = box.dataset.passkey, { publicKey } = await ask(path + "/challenge");
      const credential = box.dataset.kind === "get"
        ? await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(publicKey) })
        : await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(publicKey) });
      const { next } = await ask(path, { device: box.querySelector("input")?.value ?? "", credential: credential.toJSON() });
      location.assign(next);
    } catch (error) {
      line.textContent = error.told ?? (error.name === "InvalidStateError" ? box.dataset.known : box.dataset.failed);
      button.disabled = false;
    }
  });
}
