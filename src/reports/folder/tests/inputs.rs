//! What a batch is planned from is never replaced.

use super::*;

/// A report folder in which orders lie, two folders down.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    write_folder(&home.path().join("spring"), &files("1")).unwrap();
    fs::create_dir_all(home.path().join("spring/a/b")).unwrap();
    put(&home.path().join("spring/a/b/order.csv"), "mine");
    fs::create_dir(home.path().join("orders")).unwrap();
    put(&home.path().join("orders/order.csv"), "mine");
    home
}

#[track_caller]
fn is_refused(folder: &Path, input: &Path) {
    match Destination::of(folder, &[input]) {
        Err(FolderError::HoldsInput { folder: told, input: file }) => {
            assert_eq!((told.as_path(), file.as_path()), (folder, input));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_folder_that_holds_an_input_is_refused_however_it_is_spelt() {
    let home = home();
    let path = |name: &str| home.path().join(name);
    for input in
        ["spring/a/b/order.csv", "spring/a/../a/b/order.csv", "orders/../spring/a/b/order.csv"]
    {
        for folder in ["spring", "spring/", "spring/.", "orders/../spring", "spring/a/.."] {
            is_refused(&path(folder), &path(input));
        }
        // Not one of them, and one that is no report folder besides.
        is_refused(&path("spring/a"), &path(input));
        is_refused(&path(""), &path(input));
        assert!(Destination::of(&path("summer"), &[&path(input)]).is_ok());
    }
    // One that is read from another report folder is in nobody's way.
    write_folder(&path("summer"), &files("1")).unwrap();
    assert!(Destination::of(&path("summer"), &[&path("spring/a/b/order.csv")]).is_ok());
    assert!(Destination::of(&path("spring"), &[&path("orders/order.csv")]).is_ok());
    // The file itself is no folder.
    let error =
        Destination::of(&path("orders/order.csv"), &[&path("orders/order.csv")]).unwrap_err();
    assert!(matches!(error, FolderError::NotOurs(_)), "{error}");
}

#[cfg(unix)]
#[test]
fn links_hide_nothing() {
    use std::os::unix::fs::symlink;
    let home = home();
    let path = |name: &str| home.path().join(name);
    symlink("spring", path("link")).unwrap();
    symlink(path("spring/a"), path("inner")).unwrap();
    symlink("spring/a/b/order.csv", path("order.csv")).unwrap();
    symlink("../orders/order.csv", path("spring/out.csv")).unwrap();
    symlink("spring/out.csv", path("there and back.csv")).unwrap();
    for folder in ["spring", "link"] {
        for input in ["link/a/b/order.csv", "inner/b/order.csv", "order.csv"] {
            is_refused(&path(folder), &path(input));
        }
        // These lead out of the folder again, but by a link that might be replaced.
        is_refused(&path(folder), &path("spring/out.csv"));
        is_refused(&path(folder), &path("there and back.csv"));
        assert!(Destination::of(&path(folder), &[&path("orders/order.csv")]).is_ok());
    }
    // A ring of links leads nowhere.
    symlink("ring", path("ring")).unwrap();
    assert!(Destination::of(&path("spring"), &[&path("ring")]).is_ok());
}

/// What is not there yet is no way back to what is.
#[test]
fn a_way_through_a_folder_that_is_not_there_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let shop = home.path().join("shop");
    fs::create_dir(&shop).unwrap();
    let input = shop.join("sheets.csv");
    put(&input, "mine");
    for way in ["nope/../shop", "nope/./../shop", "shop/nope/.."] {
        let refused = Destination::of(&home.path().join(way), &[&input]);
        assert!(refused.is_err(), "{way}");
    }
    assert!(Destination::of(&home.path().join("shop/../new/deep"), &[&input]).is_ok());
}

/// Whosever it is, a drawer is no report.
#[test]
fn a_folder_in_which_a_shelf_is_kept_is_refused() {
    for name in ["shelf.jsonl", ".shelf.lock", ".offcuts.csv.shelf"] {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("spring");
        write_folder(&target, &files("1")).unwrap();
        put(&target.join(name), "");
        assert!(
            matches!(Destination::of(&target, &[]), Err(FolderError::HoldsShelf { .. })),
            "{name}"
        );
    }
}
