// Where somebody signs in, nobody is signed in: what this phone knew of the person
// before is forgotten. What they have not sent yet stays, under their account.
globalThis.indexedDB?.databases?.().then((list) => {
  if (!list.some((d) => d.name === "brae")) return;
  indexedDB.open("brae").onsuccess = (opened) => {
    const base = opened.target.result;
    if (base.objectStoreNames.contains("kept")) base.transaction("kept", "readwrite").objectStore("kept").clear();
    base.close();
  };
}).catch(() => {});
