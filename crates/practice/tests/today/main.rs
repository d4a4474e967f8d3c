//! Today: the steps, the plan, and the run over it.

mod any;
mod days;
mod plans;
mod run;
