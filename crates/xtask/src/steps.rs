//! Steps in a row: announced, timed, stopped at the first that fails, and told about in a table.

use std::time::{Duration, Instant};

use crate::failure::{Result, fail};
use crate::needs::Need;

/// One thing to prove.
pub struct Step {
    /// One word, by which it can be asked for.
    pub name: &'static str,
    /// What it proves, for the announcement.
    pub proves: &'static str,
    /// What the machine must have for it.
    pub needs: &'static [&'static [Need]],
    /// Does it; its output goes straight to the terminal.
    pub run: fn() -> Result,
}

/// How one step went; nothing where it was not reached.
type Done = Option<(bool, Duration)>;

/// Runs them in order and prints the table.
///
/// # Errors
///
/// That of the first step that fails.
pub fn run_all(steps: &[&Step]) -> Result {
    let mut done: Vec<Done> = vec![None; steps.len()];
    let mut failure = None;
    for (step, done) in steps.iter().zip(&mut done) {
        println!("\n── {}: {}", step.name, step.proves);
        let started = Instant::now();
        let result = (step.run)();
        let took = started.elapsed();
        *done = Some((result.is_ok(), took));
        println!("── {}: {} in {:.1} s", step.name, word(result.is_ok()), took.as_secs_f64());
        if let Err(cause) = result {
            failure = Some(format!("step {}: {cause}", step.name));
            break;
        }
    }
    println!("\n{}", table(steps, &done));
    failure.map_or(Ok(()), fail)
}

fn word(passed: bool) -> &'static str {
    if passed { "passed" } else { "FAILED" }
}

fn table(steps: &[&Step], done: &[Done]) -> String {
    let row = |name: &str, result: &str, time: &str| format!("{name:<12} {result:<8} {time:>9}\n");
    let mut table = row("step", "result", "time");
    for (step, done) in steps.iter().zip(done) {
        table += &match done {
            None => row(step.name, "not run", ""),
            Some((passed, took)) => row(step.name, word(*passed), &format!("{:.1} s", took.as_secs_f64())),
        };
    }
    let all: Duration = done.iter().flatten().map(|(_, took)| *took).sum();
    table + &row("all", "", &format!("{:.1} s", all.as_secs_f64()))
}

#[cfg(test)]
mod tests {
    use super::{Step, run_all, table};
    use crate::failure::{Result, fail};
    use std::time::Duration;

    const fn step(name: &'static str, run: fn() -> Result) -> Step {
        Step { name, proves: "nothing", needs: &[], run }
    }

    #[test]
    fn the_first_failure_ends_it() {
        let steps = [
            step("one", || Ok(())),
            step("two", || fail("as it should")),
            step("three", || unreachable!("comes after a step that failed")),
        ];
        let failure = run_all(&steps.each_ref()).expect_err("the second step fails");
        assert_eq!(failure.to_string(), "step two: as it should");
    }

    #[test]
    fn the_table_tells_of_every_step() {
        let steps = [step("one", || Ok(())), step("two", || Ok(()))];
        let told = table(&steps.each_ref(), &[Some((true, Duration::from_millis(1500))), None]);
        assert!(told.contains("one          passed       1.5 s\n"), "{told}");
        assert!(told.contains("two          not run"), "{told}");
    }
}
