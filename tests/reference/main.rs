//! Second opinions on the trade's arithmetic, by general libraries that are not ours.

#![cfg(test)]

mod expected;
mod roof;
