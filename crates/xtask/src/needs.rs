//! What the machine must have, and whether it has it.
//!
//! Asked of the machine itself, not of its package manager: a library that came another way is as good, and where
//! everything is there, no network and no rights are needed.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use crate::process;

/// Something that a step cannot do without.
#[derive(Debug, PartialEq, Eq)]
pub struct Need {
    /// The Debian package that brings it.
    pub package: &'static str,
    proof: Proof,
}

/// How to see that it is there.
#[derive(Debug, PartialEq, Eq)]
enum Proof {
    /// The loader finds a library of this name.
    Library(&'static str),
    /// One of these programs is on the search path.
    Program(&'static [&'static str]),
    /// This command succeeds.
    Works(&'static [&'static str]),
    /// A Vulkan driver is registered whose file name begins so.
    VulkanDriver(&'static str),
    /// A file dialog can be had, from the desktop or from a program.
    FileDialog,
}

const fn library(package: &'static str, name: &'static str) -> Need {
    Need { package, proof: Proof::Library(name) }
}

const fn program(package: &'static str, names: &'static [&'static str]) -> Need {
    Need { package, proof: Proof::Program(names) }
}

/// What the window opens at run time: nothing of it is linked, so a build does not tell that it is missing.
pub const WINDOW: &[Need] = &[
    library("libvulkan1", "libvulkan.so.1"),
    Need { package: "mesa-vulkan-drivers", proof: Proof::VulkanDriver("") },
    library("libx11-6", "libX11.so.6"),
    library("libx11-xcb1", "libX11-xcb.so.1"),
    library("libxcb1", "libxcb.so.1"),
    library("libxcursor1", "libXcursor.so.1"),
    library("libxi6", "libXi.so.6"),
    library("libxrandr2", "libXrandr.so.2"),
    library("libxkbcommon-x11-0", "libxkbcommon-x11.so.0"),
    library("libwayland-client0", "libwayland-client.so.0"),
    library("libdbus-1-3", "libdbus-1.so.3"),
];

/// For opening and saving under a name; everything else works without.
pub const FILE_DIALOG: &[Need] = &[Need { package: "zenity", proof: Proof::FileDialog }];

/// A display where there is none, and a driver that draws without a graphics card.
pub const VIRTUAL_DISPLAY: &[Need] =
    &[program("xvfb", &["Xvfb"]), Need { package: "mesa-vulkan-drivers", proof: Proof::VulkanDriver("lvp_icd") }];

/// What presses the keys and looks at the pictures in the window tests.
pub const WINDOW_TESTS: &[Need] =
    &[program("xdotool", &["xdotool"]), program("imagemagick", &["import"]), program("imagemagick", &["compare"])];

/// What the independent readers run in.
pub const READERS: &[Need] = &[
    program("python3", &["python3"]),
    // Debian keeps the half of venv that installs pip in a package of its own.
    Need { package: "python3-venv", proof: Proof::Works(&["python3", "-c", "import ensurepip, venv"]) },
    program("nodejs", &["node"]),
    program("npm", &["npm"]),
    program("poppler-utils", &["pdftotext"]),
];

impl Need {
    /// Whether the machine has it now.
    pub fn is_met(&self) -> bool {
        match self.proof {
            Proof::Library(name) => loader_finds(name),
            Proof::Program(names) => names.iter().any(|name| process::on_path(name).is_some()),
            Proof::Works(words) => process::succeeds(Command::new(words[0]).args(&words[1..])),
            Proof::VulkanDriver(start) => vulkan_driver_is_registered(start),
            Proof::FileDialog => {
                process::on_path("zenity").is_some()
                    || Path::new("/usr/share/dbus-1/services/org.freedesktop.portal.Desktop.service").exists()
            }
        }
    }
}

/// Those that the machine lacks. Only Linux is looked at: elsewhere the system brings its own window and drivers.
pub fn missing<'a>(needs: impl IntoIterator<Item = &'a Need>) -> Vec<&'a Need> {
    let mut missing: Vec<&Need> = Vec::new();
    for need in needs {
        let listed = missing.iter().any(|other| other.package == need.package);
        if cfg!(target_os = "linux") && !listed && !need.is_met() {
            missing.push(need);
        }
    }
    missing
}

/// Asks the loader's cache, and looks into the usual folders for systems that have no such cache.
fn loader_finds(library: &str) -> bool {
    static FOLDERS: LazyLock<Vec<PathBuf>> = LazyLock::new(library_folders);
    // Plain users often have no sbin on their path.
    let asked = ["ldconfig", "/sbin/ldconfig", "/usr/sbin/ldconfig"]
        .iter()
        .find_map(|ldconfig| process::output_of(Command::new(ldconfig).arg("-p")).ok());
    asked.is_some_and(|known| knows(&known, library)) || FOLDERS.iter().any(|folder| folder.join(library).exists())
}

/// Whether the loader's list has a library of exactly this name.
fn knows(list: &str, library: &str) -> bool {
    list.lines().any(|line| line.split_whitespace().next() == Some(library))
}

fn library_folders() -> Vec<PathBuf> {
    let set = env::var_os("LD_LIBRARY_PATH").unwrap_or_default();
    let triplet = format!("{}-linux-gnu", env::consts::ARCH);
    let usual = ["/lib", "/usr/lib", "/usr/local/lib", "/lib64", "/usr/lib64"].map(PathBuf::from);
    let of_architecture = ["/lib", "/usr/lib"].map(|lib| Path::new(lib).join(&triplet));
    env::split_paths(&set).chain(usual).chain(of_architecture).collect()
}

fn vulkan_driver_is_registered(start: &str) -> bool {
    let chosen = ["VK_DRIVER_FILES", "VK_ICD_FILENAMES"];
    if chosen.iter().any(|name| env::var_os(name).is_some_and(|files| !files.is_empty())) {
        return true;
    }
    ["/usr/share/vulkan/icd.d", "/usr/local/share/vulkan/icd.d", "/etc/vulkan/icd.d"]
        .iter()
        .filter_map(|folder| fs::read_dir(folder).ok())
        .flatten()
        .flatten()
        .map(|file| file.path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "json"))
        .any(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with(start)))
}

#[cfg(test)]
mod tests {
    use super::{Need, Proof, knows, missing};

    const LIST: &str = "2 libs found in cache `/etc/ld.so.cache'
\tlibX11.so.6 (libc6,x86-64) => /lib/x86_64-linux-gnu/libX11.so.6
\tlibX11-xcb.so.1 (libc6,x86-64) => /lib/x86_64-linux-gnu/libX11-xcb.so.1
";

    #[test]
    fn a_library_is_known_by_its_whole_name() {
        assert!(knows(LIST, "libX11.so.6"));
        assert!(!knows(LIST, "libX11.so"));
        assert!(!knows(LIST, "libXi.so.6"));
    }

    #[test]
    fn what_is_missing_is_listed_once() {
        const GONE: &[Need] = &[
            Need { package: "a", proof: Proof::Program(&["no such program"]) },
            Need { package: "a", proof: Proof::Library("no such library") },
            Need { package: "b", proof: Proof::Works(&["no such program", "at all"]) },
            Need { package: "c", proof: Proof::Program(&["no such program", "sh"]) },
        ];
        let missing: Vec<_> = missing(GONE).iter().map(|need| need.package).collect();
        if cfg!(target_os = "linux") {
            assert_eq!(missing, ["a", "b"]);
        }
    }
}
