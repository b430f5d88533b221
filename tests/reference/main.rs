//! Second opinions on the trade's arithmetic, by general libraries that are not ours.

#![cfg(test)]

mod cash;
mod expected;
mod roof;
