//! A disk under SQLite that knows what was synced. It writes through to real files, so that whatever else looks at them
//! finds them; and it can say what would lie there if the power went now: of what was written since the last sync each
//! write may be whole, torn or missing, and a file that was made or deleted since may not be there or be there again.
//!
//! It also lets a call fail, and after the power has gone all of them.

use crate::nth::Nth;
use acceptance::dice::Dice;
use sqlite_plugin::flags::{AccessFlags, LockLevel, OpenOpts, ShmLockMode};
use sqlite_plugin::vars;
use sqlite_plugin::vfs::{RegisterOpts, Vfs, VfsHandle, VfsResult, register_static};
use std::collections::BTreeMap;
use std::fs::File;
use std::os::unix::fs::FileExt;
use std::path::{Path, PathBuf};
use std::ptr::NonNull;
use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

/// What was done to a file since it was last synced.
#[derive(Debug, Clone)]
enum Change {
    Write { at: usize, bytes: Vec<u8> },
    Cut(usize),
}

fn apply(bytes: &mut Vec<u8>, change: &Change, kept: usize) {
    match change {
        Change::Write { at, bytes: written } => {
            let written = &written[..kept.min(written.len())];
            if bytes.len() < at + written.len() {
                bytes.resize(at + written.len(), 0);
            }
            bytes[*at..at + written.len()].copy_from_slice(written);
        }
        Change::Cut(length) => bytes.resize(*length, 0),
    }
}

/// What the platter holds of one file.
#[derive(Debug, Default)]
struct Platter {
    /// What lies there whatever happens; nothing before the first sync of a new file.
    synced: Option<Vec<u8>>,
    since: Vec<Change>,
    /// Made anew since the last sync: it begins empty, and its name may not be there.
    is_new: bool,
    /// Deleted since the last sync: it may be there again.
    is_gone: bool,
    handles: u32,
    locks: Locks,
    index: Index,
}

#[derive(Debug, Default)]
struct Locks {
    shared: u32,
    reserved: bool,
    pending: bool,
    exclusive: bool,
}

/// The log's index, which all who have the file open share.
#[derive(Debug, Default)]
struct Index {
    regions: Vec<&'static [AtomicU8]>,
    slots: [(u32, bool); 8],
    users: u32,
}

impl Platter {
    fn lying_there(bytes: Option<Vec<u8>>) -> Platter {
        Platter { is_new: bytes.is_none(), synced: bytes, ..Platter::default() }
    }

    fn now(&self) -> Option<Vec<u8>> {
        if self.is_gone {
            return None;
        }
        let mut bytes = if self.is_new { Vec::new() } else { self.synced.clone().unwrap_or_default() };
        for change in &self.since {
            apply(&mut bytes, change, usize::MAX);
        }
        Some(bytes)
    }

    fn sync(&mut self) {
        self.synced = self.now();
        self.since.clear();
        (self.is_new, self.is_gone) = (false, false);
    }

    /// What would lie there if the power went now.
    fn after_a_cut(&self, dice: &mut Dice) -> Option<Vec<u8>> {
        if self.is_gone || (self.is_new && dice.below(3) == 0) {
            return if dice.below(2) == 0 { self.synced.clone() } else { None };
        }
        // A disk that wrote everything, one that wrote nothing, and one that wrote what it liked.
        let mood = dice.below(4);
        let mut bytes = if self.is_new { Vec::new() } else { self.synced.clone().unwrap_or_default() };
        for change in &self.since {
            let length = if let Change::Write { bytes, .. } = change { bytes.len() } else { 0 };
            match (mood, dice.below(4)) {
                (0, _) | (2 | 3, 0 | 1) => apply(&mut bytes, change, usize::MAX),
                (2 | 3, 2) if length > 0 => apply(&mut bytes, change, dice.place(length)),
                _ => {}
            }
        }
        Some(bytes)
    }
}

/// What lies in a folder after a cut: the files' names and bytes.
pub(crate) type Image = BTreeMap<PathBuf, Vec<u8>>;

/// What is to happen in one folder.
#[derive(Debug, Default)]
struct Weather {
    /// The call that fails.
    nth: Option<Arc<Nth>>,
    /// The changing call at which the power goes.
    cut: Option<(Arc<Nth>, Dice)>,
    /// What lies there after it went. Until it is back, every call fails.
    dark: Option<Image>,
    /// As many images of what a cut would leave, each with what was said by then, are taken at every so many calls.
    watched: Option<Watched>,
    /// Whether it says that it synced and did not.
    forgets: bool,
}

#[derive(Debug)]
struct Watched {
    every: u64,
    made: u64,
    dice: Dice,
    said: u64,
    images: Vec<(u64, Image)>,
}

#[derive(Debug, Default)]
struct Inside {
    files: BTreeMap<PathBuf, Platter>,
    weather: BTreeMap<PathBuf, Weather>,
    /// Memory of indexes that nobody has open any more.
    spare: Vec<&'static [AtomicU8]>,
}

/// The disk; every ledger of this process lies on it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Disk(Arc<Mutex<Inside>>);

/// An open file. Without a path it is SQLite's own scratch.
#[derive(Debug)]
pub(crate) struct Handle {
    path: Option<PathBuf>,
    file: File,
    level: Option<LockLevel>,
    has_index: bool,
}

impl VfsHandle for Handle {
    fn readonly(&self) -> bool {
        false
    }

    fn in_memory(&self) -> bool {
        false
    }
}

/// What may be done to a file, with what SQLite is told when it does not work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Call {
    Open,
    Delete,
    Read,
    Write,
    Truncate,
    Sync,
    Size,
}

impl Call {
    fn error(self) -> i32 {
        match self {
            Call::Open => vars::SQLITE_CANTOPEN,
            Call::Delete => vars::SQLITE_IOERR_DELETE,
            Call::Read => vars::SQLITE_IOERR_READ,
            Call::Write => vars::SQLITE_FULL,
            Call::Truncate => vars::SQLITE_IOERR_TRUNCATE,
            Call::Sync => vars::SQLITE_IOERR_FSYNC,
            Call::Size => vars::SQLITE_IOERR_FSTAT,
        }
    }

    fn changes(self) -> bool {
        matches!(self, Call::Delete | Call::Write | Call::Truncate | Call::Sync)
    }
}

impl Inside {
    /// Counts a call in the folder of a file, and says whether it fails.
    fn call(&mut self, path: &Path, call: Call) -> VfsResult<()> {
        // A copy is made in a folder of its own inside the ledger's.
        let folder = path.ancestors().find(|folder| self.weather.contains_key(*folder)).map(Path::to_owned);
        let Some((folder, mut weather)) = folder.and_then(|folder| self.weather.remove_entry(&folder)) else {
            return Ok(());
        };
        let outcome = self.weathered(&mut weather, &folder, call);
        self.weather.insert(folder, weather);
        outcome
    }

    fn weathered(&mut self, weather: &mut Weather, folder: &Path, call: Call) -> VfsResult<()> {
        if weather.dark.is_some() {
            return Err(call.error());
        }
        if weather.nth.as_ref().is_some_and(|nth| nth.fails_now()) {
            return Err(call.error());
        }
        if !call.changes() {
            return Ok(());
        }
        if let Some(watched) = &mut weather.watched {
            watched.made += 1;
            if watched.made % watched.every == 0 {
                let image = self.image(folder, &mut watched.dice);
                watched.images.push((watched.said, image));
            }
        }
        if let Some((nth, dice)) = &mut weather.cut
            && nth.fails_now()
        {
            weather.dark = Some(self.image(folder, dice));
            return Err(call.error());
        }
        Ok(())
    }

    fn image(&self, folder: &Path, dice: &mut Dice) -> Image {
        let mut image = Image::new();
        for (path, platter) in self.files.iter().filter(|(path, _)| path.parent() == Some(folder)) {
            if let Some(bytes) = platter.after_a_cut(dice) {
                image.insert(path.clone(), bytes);
            }
        }
        image
    }

    fn platter(&mut self, handle: &Handle) -> Option<&mut Platter> {
        self.files.get_mut(handle.path.as_ref()?)
    }
}

impl Disk {
    /// The disk of this process, put under SQLite when it is first asked for.
    pub(crate) fn here() -> Disk {
        static HERE: OnceLock<Disk> = OnceLock::new();
        let made = || {
            let disk = Disk::default();
            let name = c"storm".to_owned();
            register_static(name, disk.clone(), RegisterOpts { make_default: true }).expect("a disk");
            disk
        };
        HERE.get_or_init(made).clone()
    }

    fn inside(&self) -> MutexGuard<'_, Inside> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// From now on the n-th call in a folder fails.
    pub(crate) fn fails(&self, folder: &Path, nth: &Arc<Nth>) {
        self.inside().weather.entry(folder.to_owned()).or_default().nth = Some(Arc::clone(nth));
    }

    /// From now on the power goes in a folder at the n-th call that changes anything.
    pub(crate) fn power_goes(&self, folder: &Path, nth: &Arc<Nth>, dice: Dice) {
        self.inside().weather.entry(folder.to_owned()).or_default().cut = Some((Arc::clone(nth), dice));
    }

    /// From now on it is noted at every so many calls what a cut would leave in a folder.
    pub(crate) fn watches(&self, folder: &Path, every: u64, dice: Dice) {
        let watched = Watched { every, made: 0, dice, said: 0, images: Vec::new() };
        self.inside().weather.entry(folder.to_owned()).or_default().watched = Some(watched);
    }

    /// From now on a folder's files are never synced, though it is said that they are.
    pub(crate) fn forgets(&self, folder: &Path) {
        self.inside().weather.entry(folder.to_owned()).or_default().forgets = true;
    }

    /// Says that more was acknowledged by now, for the images that follow.
    pub(crate) fn said(&self, folder: &Path, said: u64) {
        if let Some(watched) = self.inside().weather.get_mut(folder).and_then(|each| each.watched.as_mut()) {
            watched.said = said;
        }
    }

    /// Fair weather again. Answers the images that were noted, each with what had been said by then.
    pub(crate) fn clears(&self, folder: &Path) -> Vec<(u64, Image)> {
        let weather = self.inside().weather.remove(folder);
        weather.and_then(|each| each.watched).map(|watched| watched.images).unwrap_or_default()
    }

    /// What lies in a folder after its power went; nothing where it did not. Nobody may have a file of it open.
    pub(crate) fn power_is_back(&self, folder: &Path) -> bool {
        let Some(image) = self.inside().weather.remove(folder).and_then(|each| each.dark) else {
            return false;
        };
        self.lay(folder, &image);
        true
    }

    /// Lays files in a folder as they are after a cut. The real ones, and what is known of them, give way.
    pub(crate) fn lay(&self, folder: &Path, image: &Image) {
        let mut inside = self.inside();
        let known: Vec<PathBuf> =
            inside.files.keys().filter(|path| path.parent() == Some(folder)).cloned().collect();
        for path in known {
            assert_eq!(inside.files.get(&path).map(|platter| platter.handles), Some(0), "{}", path.display());
            inside.files.remove(&path);
            let _ = std::fs::remove_file(path);
        }
        for (path, bytes) in image {
            let path = folder.join(path.file_name().expect("a name"));
            std::fs::write(path, bytes).expect("a file");
        }
    }
}

fn busy(is_free: bool) -> VfsResult<()> {
    if is_free { Ok(()) } else { Err(vars::SQLITE_BUSY) }
}

impl Vfs for Disk {
    type Handle = Handle;

    fn open(&self, path: Option<&str>, opts: OpenOpts) -> VfsResult<Handle> {
        let Some(path) = path.map(PathBuf::from) else {
            let file = tempfile::tempfile().map_err(|_| vars::SQLITE_CANTOPEN)?;
            return Ok(Handle { path: None, file, level: None, has_index: false });
        };
        let mut inside = self.inside();
        inside.call(&path, Call::Open)?;
        let there = std::fs::read(&path).ok();
        let may_make = opts.flags() & vars::SQLITE_OPEN_CREATE != 0;
        if there.is_none() && !may_make {
            return Err(vars::SQLITE_CANTOPEN);
        }
        let file = File::options().read(true).write(true).create(may_make).truncate(false).open(&path);
        let file = file.map_err(|_| vars::SQLITE_CANTOPEN)?;
        let platter = inside.files.entry(path.clone()).or_default();
        if platter.handles == 0 {
            if platter.is_gone && there.is_none() {
                // Made again before its deletion was synced: either may be there.
                (platter.is_gone, platter.is_new) = (false, true);
                platter.since.clear();
            } else if platter.now() != there || there.is_none() {
                *platter = Platter::lying_there(there);
            }
        }
        platter.handles += 1;
        Ok(Handle { path: Some(path), file, level: None, has_index: false })
    }

    fn delete(&self, path: &str) -> VfsResult<()> {
        let path = Path::new(path);
        let mut inside = self.inside();
        inside.call(path, Call::Delete)?;
        std::fs::remove_file(path).map_err(|_| vars::SQLITE_IOERR_DELETE_NOENT)?;
        if let Some(platter) = inside.files.get_mut(path) {
            if platter.synced.is_some() {
                // What was not synced of it before will not come back.
                platter.since.clear();
                (platter.is_new, platter.is_gone) = (false, true);
            } else {
                inside.files.remove(path);
            }
        }
        Ok(())
    }

    fn access(&self, path: &str, _flags: AccessFlags) -> VfsResult<bool> {
        Ok(Path::new(path).exists())
    }

    fn file_size(&self, handle: &mut Handle) -> VfsResult<usize> {
        if let Some(path) = &handle.path {
            self.inside().call(path, Call::Size)?;
        }
        let length = handle.file.metadata().map_err(|_| vars::SQLITE_IOERR_FSTAT)?.len();
        usize::try_from(length).map_err(|_| vars::SQLITE_IOERR_FSTAT)
    }

    fn truncate(&self, handle: &mut Handle, size: usize) -> VfsResult<()> {
        let mut inside = self.inside();
        if let Some(path) = &handle.path {
            inside.call(path, Call::Truncate)?;
        }
        if let Some(platter) = inside.platter(handle) {
            platter.since.push(Change::Cut(size));
        }
        handle.file.set_len(size as u64).map_err(|_| vars::SQLITE_IOERR_TRUNCATE)
    }

    fn write(&self, handle: &mut Handle, offset: usize, data: &[u8]) -> VfsResult<usize> {
        let mut inside = self.inside();
        if let Some(path) = &handle.path {
            inside.call(path, Call::Write)?;
        }
        if let Some(platter) = inside.platter(handle) {
            platter.since.push(Change::Write { at: offset, bytes: data.to_vec() });
        }
        handle.file.write_all_at(data, offset as u64).map_err(|_| vars::SQLITE_IOERR_WRITE)?;
        Ok(data.len())
    }

    fn read(&self, handle: &mut Handle, offset: usize, data: &mut [u8]) -> VfsResult<usize> {
        if let Some(path) = &handle.path {
            self.inside().call(path, Call::Read)?;
        }
        let mut read = 0;
        while read < data.len() {
            match handle.file.read_at(&mut data[read..], (offset + read) as u64) {
                Ok(0) => break,
                Ok(more) => read += more,
                Err(_) => return Err(vars::SQLITE_IOERR_READ),
            }
        }
        Ok(read)
    }

    fn lock(&self, handle: &mut Handle, level: LockLevel) -> VfsResult<()> {
        let held = handle.level.unwrap_or(LockLevel::Unlocked);
        let mut inside = self.inside();
        let Some(platter) = inside.platter(handle) else { return Ok(()) };
        let locks = &mut platter.locks;
        match level {
            LockLevel::Shared if held < LockLevel::Shared => {
                busy(!locks.exclusive && !locks.pending)?;
                locks.shared += 1;
            }
            LockLevel::Reserved if held < LockLevel::Reserved => {
                busy(!locks.reserved)?;
                locks.reserved = true;
            }
            LockLevel::Pending | LockLevel::Exclusive if held < level => {
                busy(held >= LockLevel::Pending || !locks.pending)?;
                busy(held >= LockLevel::Reserved || !locks.reserved)?;
                locks.pending = true;
                locks.reserved = true;
                if locks.shared > 1 {
                    handle.level = Some(LockLevel::Pending);
                    return Err(vars::SQLITE_BUSY);
                }
                locks.exclusive = true;
            }
            _ => return Ok(()),
        }
        handle.level = Some(level);
        Ok(())
    }

    fn unlock(&self, handle: &mut Handle, level: LockLevel) -> VfsResult<()> {
        let held = handle.level.unwrap_or(LockLevel::Unlocked);
        let mut inside = self.inside();
        if let Some(platter) = inside.platter(handle) {
            let locks = &mut platter.locks;
            if held >= LockLevel::Reserved && level <= LockLevel::Shared {
                (locks.reserved, locks.pending, locks.exclusive) = (false, false, false);
            }
            if held >= LockLevel::Shared && level == LockLevel::Unlocked {
                locks.shared -= 1;
            }
        }
        handle.level = Some(level);
        Ok(())
    }

    fn check_reserved_lock(&self, handle: &mut Handle) -> VfsResult<bool> {
        Ok(self.inside().platter(handle).is_some_and(|platter| platter.locks.reserved))
    }

    fn sync(&self, handle: &mut Handle) -> VfsResult<()> {
        let mut inside = self.inside();
        if let Some(path) = &handle.path {
            inside.call(path, Call::Sync)?;
            if path.parent().and_then(|folder| inside.weather.get(folder)).is_some_and(|each| each.forgets) {
                return Ok(());
            }
        }
        let Some(platter) = inside.platter(handle) else { return Ok(()) };
        let was_new = platter.is_new;
        platter.sync();
        if let Some(folder) = handle.path.as_ref().and_then(|path| path.parent()).filter(|_| was_new) {
            // With the first sync of a new file SQLite syncs the folder, and what was deleted there is gone for good.
            inside.files.retain(|path, platter| !platter.is_gone || path.parent() != Some(folder));
        }
        Ok(())
    }

    fn close(&self, mut handle: Handle) -> VfsResult<()> {
        let _ = self.unlock(&mut handle, LockLevel::Unlocked);
        if handle.has_index {
            let _ = self.shm_unmap(&mut handle, false);
        }
        if let Some(platter) = self.inside().platter(&handle) {
            platter.handles -= 1;
        }
        Ok(())
    }

    fn device_characteristics(&self, _handle: &mut Handle) -> VfsResult<i32> {
        // As SQLite takes a disk under Unix to be, and nothing better.
        Ok(vars::SQLITE_IOCAP_POWERSAFE_OVERWRITE)
    }

    fn shm_map(
        &self,
        handle: &mut Handle,
        region_idx: usize,
        region_size: usize,
        extend: bool,
    ) -> VfsResult<Option<NonNull<u8>>> {
        let mut inside = self.inside();
        let Inside { files, spare, .. } = &mut *inside;
        let path = handle.path.as_ref().ok_or(vars::SQLITE_IOERR_SHMMAP)?;
        let index = &mut files.get_mut(path).ok_or(vars::SQLITE_IOERR_SHMMAP)?.index;
        if !handle.has_index {
            handle.has_index = true;
            index.users += 1;
        }
        while index.regions.len() <= region_idx {
            if !extend {
                return Ok(None);
            }
            let fits = spare.iter().position(|region| region.len() == region_size);
            let region = fits.map(|place| spare.swap_remove(place)).unwrap_or_else(|| {
                Box::leak((0..region_size).map(|_| AtomicU8::new(0)).collect::<Box<[AtomicU8]>>())
            });
            region.iter().for_each(|byte| byte.store(0, Ordering::Relaxed));
            index.regions.push(region);
        }
        Ok(NonNull::new(index.regions[region_idx].as_ptr().cast::<u8>().cast_mut()))
    }

    fn shm_lock(&self, handle: &mut Handle, offset: u32, count: u32, mode: ShmLockMode) -> VfsResult<()> {
        let mut inside = self.inside();
        let slots = &mut inside.platter(handle).ok_or(vars::SQLITE_IOERR_SHMLOCK)?.index.slots;
        let (first, count) = (offset as usize, count as usize);
        let slots = slots.get_mut(first..first + count).ok_or(vars::SQLITE_IOERR_SHMLOCK)?;
        match mode {
            ShmLockMode::LockShared => {
                busy(slots.iter().all(|(_, exclusive)| !exclusive))?;
                slots.iter_mut().for_each(|(shared, _)| *shared += 1);
            }
            ShmLockMode::LockExclusive => {
                busy(slots.iter().all(|(shared, exclusive)| *shared == 0 && !exclusive))?;
                slots.iter_mut().for_each(|(_, exclusive)| *exclusive = true);
            }
            ShmLockMode::UnlockShared => {
                slots.iter_mut().for_each(|(shared, _)| *shared = shared.saturating_sub(1));
            }
            ShmLockMode::UnlockExclusive => slots.iter_mut().for_each(|(_, exclusive)| *exclusive = false),
        }
        Ok(())
    }

    fn shm_unmap(&self, handle: &mut Handle, _delete: bool) -> VfsResult<()> {
        let mut inside = self.inside();
        let Inside { files, spare, .. } = &mut *inside;
        let path = handle.path.as_ref().ok_or(vars::SQLITE_IOERR_SHMMAP)?;
        if let Some(platter) = files.get_mut(path)
            && std::mem::take(&mut handle.has_index)
        {
            platter.index.users -= 1;
            if platter.index.users == 0 {
                let index = std::mem::take(&mut platter.index);
                spare.extend(index.regions);
            }
        }
        Ok(())
    }
}
