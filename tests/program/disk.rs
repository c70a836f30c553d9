//! A small disk that fills up.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A disk in memory, where this user may make one.
pub struct SmallDisk {
    path: PathBuf,
    #[expect(dead_code, reason = "goes away with the disk")]
    home: TempDir,
}

impl SmallDisk {
    /// One of so many kilobytes.
    pub fn new(kilobytes: u32) -> Option<SmallDisk> {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("disk");
        fs::create_dir(&path).unwrap();
        let size = format!("size={kilobytes}k");
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", &size, "tmpfs"]).arg(&path);
        let mounted = mount.output().is_ok_and(|it| it.status.success());
        mounted.then_some(SmallDisk { path, home })
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Fills it, but for about so many bytes.
    pub fn fill(&self, free: u64) {
        use std::io::Write;
        let ballast = self.path.join("ballast");
        let _ = fs::remove_file(&ballast);
        let mut file = fs::File::create(&ballast).unwrap();
        let mut length: u64 = 0;
        while file.write_all(&[0; 256]).is_ok() {
            length += 256;
        }
        file.set_len(length.saturating_sub(free)).unwrap();
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.path).output();
    }
}
