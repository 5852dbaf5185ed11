// The log form carries an id that makes it count once, however often it is sent.
// A form that was never sent gets an id of this browser's own, also when the
// browser brings it back from its memory: going back means another session.
const id = document.getElementById('id');
const fresh = () => { id.value = crypto.randomUUID(); };
if (id && 'fresh' in id.dataset && crypto.randomUUID) {
  fresh();
  addEventListener('pageshow', (event) => { if (event.persisted) fresh(); });
}
