//! What comes out of a printer.

use crate::screen::Screen;
use fantoccini::wd::{PrintConfiguration, PrintSize};

/// How many A4 sheets the page takes, with the margins that it asks for itself.
pub(crate) async fn sheets(screen: &Screen<'_>) -> usize {
    let a4 = PrintSize {
        width: 21.0,
        height: 29.7,
    };
    let settings = PrintConfiguration::builder().size(a4).build().unwrap();
    let paper = screen.client.print(settings).await.unwrap();
    let text = String::from_utf8_lossy(&paper);
    let leaves = text.matches("/Type /Page\n").count();
    assert!(leaves > 0, "no sheet found in {} bytes", paper.len());
    leaves
}
