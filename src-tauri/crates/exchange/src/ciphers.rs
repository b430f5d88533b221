//! Whatever speaks to another machine takes its ciphers from one library, and says so before it speaks.

use std::sync::Once;

pub(crate) fn use_one_maker_of_ciphers() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // Somebody else in this process may have chosen already, which is as good.
        let _ = rustls::crypto::ring::default_provider().install_default();
        opendal_http_transport_reqwest::install_default();
    });
}
