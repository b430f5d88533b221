//! What the ledger is for when the machine is against it: a process killed while it writes, a disk that is full, a
//! byte that changed, another program that closes the file.

#![cfg(test)]

mod books;
mod bytes;
mod full;
mod killed;
mod locks;
