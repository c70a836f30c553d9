//! The published optima of gcut1 to gcut13 (instances: Beasley 1985, JORS 36:297-306; optima: Cintra,
//! Miyazawa, Wakabayashi & Xavier 2008, EJOR 191:61-85).

use crate::bench::instances::{EASY, Instance, benchmarks, published};
use cardwright::patterns::Space;

#[test]
fn gcut_reaches_the_published_optima() {
    let Some(folder) = benchmarks() else {
        println!("skipped: no benchmark folder");
        return;
    };
    let rows = published(&folder).into_iter().filter(|row| row.set == "gcut");
    let mut seen = 0;
    for row in rows.filter(|row| row.question == "most area on one sheet, any number of each piece")
    {
        let instance = Instance::read(&folder, "gcut", &row.instance);
        let areas: Vec<i64> = instance.rows.iter().map(|row| row[0] * row[1]).collect();
        let space = Space::new(instance.plate, &instance.shapes(row.turned), EASY);
        assert_eq!(space.best(&areas).value(), row.value, "{row:?}");
        seen += 1;
    }
    assert_eq!(seen, 26);
}
