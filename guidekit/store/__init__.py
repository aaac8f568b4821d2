"""The folder of a build: files appear whole or not at all, and a drawing is never lost.

::

    folder_lock.py  one build at a time works in a folder
    files.py     a file is read without hanging, and written whole
    ledger.py    the record of one folder, kept true while files appear there
    record.py    which files guidekit wrote, and the bytes they had then
    journal.py   what a build adds to the record, told before it happens
    folder.py    the folder as a build sees it: open, put, close
    queue.py     files hashed and written in threads, while the next are made
    renames.py   many files renamed with a change of the issue's file, all or none
    before.py    drawings as they were before new guides were put into them
    archives.py  ZIP archives that others have written
    picture.py   pictures that others have written

A file whose SHA-256 is the recorded one is nobody's drawing and may be replaced; any other stays
as it is. So the record must be true after any death of the process, and it is:

1. Before a file appears, a line of the journal with its name and its new digest is on the disk;
   after it has appeared, a second line says so. The old digest is still in the record.
2. A file appears by one rename, so after a death its name holds the old bytes, the new bytes, or
   what somebody drew on one of them since.
3. The next build hashes every file that the journal names. Old or new bytes are found to be that;
   for others the record keeps the canvas that was last certainly there, and none of them has the
   digest that would let them be replaced. (A digest of bytes that never came to be is harmless:
   only a canvas of guidekit's can have it.)
4. The record is replaced by a rename, and the journal removed after that. A death in between
   leaves both, and the same journal read again on the new record gives the same record.
"""
