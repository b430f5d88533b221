//! Importing CSV: what is read, what is asked, what is refused, and that nothing is recorded twice or by half.

#![cfg(test)]

mod bank;
mod kinds;
mod large;
mod names;
mod prices;
mod reading;
mod shop;
mod table;
