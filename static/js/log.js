// The log form carries an id that makes it count once, however often it is sent.
// A form that was never sent gets an id of this browser's own, also when the
// browser brings it back from its memory: going back means another session.
const id = document.getElementById('id');
const fresh = () => { id.value = crypto.randomUUID(); };
if (id && 'fresh' in id.dataset && crypto.randomUUID) {
  fresh();
  addEventListener('pageshow', (event) => { if (event.persisted) fresh(); });
}

// A favourite fills in the form that stands here; without this script it asks for
// a new one.
for (const link of document.querySelectorAll('a[data-activity]')) {
  link.addEventListener('click', (event) => {
    const activities = document.querySelectorAll('select[name$=".activity"]');
    const activity = activities[activities.length - 1];
    const minutes = document.getElementById(activity.name.replace('activity', 'minutes'));
    event.preventDefault();
    activity.value = link.dataset.activity;
    minutes.value = link.dataset.minutes;
    activity.form.dispatchEvent(new Event('input'));
    minutes.focus();
  });
}

// A long list is found by typing: what does not fit is taken out of it.
for (const list of document.querySelectorAll('select[name$=".activity"]')) {
  const words = document.querySelector('[data-find]')?.dataset;
  if (!words) break;
  const all = [...list.children].map((child) => child.cloneNode(true));
  const find = document.createElement('input');
  const told = document.createElement('p');
  const label = document.createElement('label');
  find.id = `${list.id}-find`;
  find.type = 'search';
  find.className = 'w-full';
  find.autocomplete = 'off';
  label.htmlFor = find.id;
  label.textContent = words.find;
  told.className = 'hint';
  told.setAttribute('role', 'status');
  const box = document.createElement('div');
  box.className = 'field';
  box.append(label, find, told);
  list.closest('.field').before(box);
  const plain = (text) => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  find.addEventListener('input', (event) => {
    event.stopPropagation(); // nothing of this is sent
    const wanted = plain(find.value).split(/\s+/).filter(Boolean);
    const chosen = list.value;
    list.replaceChildren(...all.map((child) => child.cloneNode(true)));
    for (const option of list.querySelectorAll('option')) {
      if (option.value && !wanted.every((word) => plain(option.textContent).includes(word))) option.remove();
    }
    for (const group of list.querySelectorAll('optgroup')) if (!group.children.length) group.remove();
    const fit = list.querySelectorAll('option[value]:not([value=""])');
    list.value = fit.length === 1 && wanted.length ? fit[0].value : chosen;
    if (list.selectedIndex < 0) list.value = '';
    told.textContent = wanted.length ? words.fit.replace('%d', fit.length) : '';
  });
  find.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter') return;
    event.preventDefault(); // looks for something, and does not save
    list.focus();
  });
}
