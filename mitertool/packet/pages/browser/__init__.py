"""The cut sheet as one page for a browser, without network: the order of work, a box a cut."""
