"""Sentences of the archive."""

TEXT = {
    "archive.missing": (
        "There is no archive at {path}. Check the path, or start a pass or a demo to make a new archive there."
    ),
    "archive.not_an_archive": (
        "{path} is not an archive of this program. Name another file; this one has not been touched."
    ),
    "archive.empty_database": (
        "{path} is an empty database. Make its tables once, as its owner, by keeping a machine there: "
        "`waywright machine new FILE --archive ADDRESS`."
    ),
    "archive.newer_format": (
        "{path} was written by a newer version of this program (archive format {found}; this version knows formats up "
        "to {known}). Update the program on this computer; the archive has not been touched."
    ),
    "archive.no_way_back": "An archive that holds readings cannot go back to an earlier format. Use an earlier copy.",
    "archive.full": (
        "The disk that holds {path} is full. Every reading that was announced is saved; the one being taken is not. "
        "Free some space, then continue the pass."
    ),
    "archive.disk_failed": (
        "The disk did not take what was written to {path} ({detail}). Every reading that was announced is saved; the "
        "one being taken is not. Check that the disk is connected and has space, then continue the pass."
    ),
    "archive.read_only": (
        "{path} cannot be written: the file, its folder or the disk is read-only for you. It can be shown; to capture, "
        "name an archive in a folder of your own."
    ),
    "archive.cannot_open": (
        "{path} cannot be opened ({detail}). Check that the folder exists, that the disk is connected and that you may "
        "read and write there; or copy the archive to a folder of your own."
    ),
    "archive.busy": (
        "Another program has been writing to {path} for several seconds. Nothing is lost; wait until it has finished, "
        "then try again."
    ),
    "archive.in_use": (
        "Another program is already capturing into {path} (process {process}, since {since}). End its pass first, or "
        "capture into another archive."
    ),
    "archive.damaged": (
        "{path} is damaged ({detail}). Do not write to it any more. Copy the file as it is, then restore the last "
        "backup."
    ),
    "archive.append_only": "What the archive holds is never changed or removed ({detail}). Add a new record instead.",
    "archive.failed": "The archive {path} could not do that: {detail}. What was saved before is still there.",
    "archive.unknown": "The archive holds no {kind} with the id {id}. List what it holds, then choose one of those.",
    "archive.written_meanwhile": (
        "Somebody else has changed {id} since you saw it. Nothing was overwritten: look at it again, then change it."
    ),
    "archive.other_kind": "{id} is a {known} in this archive; it cannot become a {kind}. Give the new one its own id.",
    "archive.no_such_kind": "The archive keeps no records of the kind {kind}.",
    "archive.not_finite": ("A number of this {kind} is infinite or not a number. Leave it out where it is not known."),
    "archive.uneven_window": "The samples of {channel} have not as many times as values; the reading was not saved.",
    "archive.unreadable_record": (
        "The {kind} {id} in the archive cannot be read ({detail}). Check the archive; restore it from a backup if "
        "needed."
    ),
    "archive.not_sealed": (
        "Reading {number} does not match its own hash, so it was not saved. Take it again; tell the makers of the "
        "program if it happens twice."
    ),
    "archive.chain_refused": (
        "Reading {number} does not continue this pass, so it was not saved: the archive expects reading {expected}, "
        "after the one it holds. Continue the pass from the archive."
    ),
    "archive.check_file": "The file itself is damaged: {detail}. Restore the last backup.",
    "archive.check_reference": "A row points to something that is not there ({detail}). Restore the last backup.",
    "archive.check_chain": (
        "Pass {pass_id}: reading {number} does not follow the one before it. A reading was removed, added or changed "
        "after it was taken; compare with a backup."
    ),
    "archive.check_unreadable": (
        "Pass {pass_id}: reading {number} cannot be read; its bytes are damaged. Compare with a backup."
    ),
    "archive.check_seal": (
        "Pass {pass_id}: reading {number} does not match its hash. It was changed after it was taken; compare with a "
        "backup."
    ),
    "archive.check_columns": (
        "Pass {pass_id}: what the archive lists for reading {number} differs from the sealed reading. It was changed "
        "after it was taken; compare with a backup."
    ),
    "archive.check_window": (
        "Pass {pass_id}: the samples of reading {number} are not those it was made of. They were changed after it was "
        "taken; compare with a backup."
    ),
    "archive.check_tally": (
        "Pass {pass_id} ended with {readings} readings, and the last of them is missing or another. Compare with a "
        "backup."
    ),
    "archive.check_stream": (
        "Pass {pass_id}: block {number} of the stream of {source} is damaged. The readings do not depend on it; "
        "standstills cannot be cut again there."
    ),
    "archive.check_content": (
        "The attached file with the SHA-256 {sha256} is damaged. The readings do not depend on it; compare with a "
        "backup."
    ),
    "archive.capture_into_file": (
        "{path} is shared by a department: nothing is captured into it over a network. Capture into a file of this "
        "computer, then push."
    ),
    "archive.bad_address": (
        "{address} is not the address of an archive. It looks like postgresql://name@server/archive; special "
        "characters in a password are written as %xx."
    ),
    "archive.not_encrypted": (
        "{address} is on another computer, and sslmode={sslmode} would send readings and passwords unprotected. Leave "
        "sslmode out; name the file of the server's certificate authority with sslrootcert=."
    ),
    "archive.link_lost": (
        "The link to {path} is gone or could not be made ({detail}). Nothing is lost: everything is in this computer's "
        "own file. Try again when there is a network; it goes on where it stopped."
    ),
    "archive.not_let_in": (
        "{path} does not let you in ({detail}). Ask the head of the department for an account, and check name and "
        "password."
    ),
    "archive.server_has_none": "There is no such database at {path} ({detail}). Check the address.",
    "archive.not_allowed": (
        "Your account may not do that in {path} ({detail}). A reader may only look, a technician may add; the rest is "
        "for the head of the department."
    ),
    "archive.no_conflict": (
        "{id} is in no conflict, or has no such version. List the conflicts, then choose one of them."
    ),
    "archive.target_exists": "{path} is there already. Name another file; nothing was written over.",
    "archive.copy_not_sound": (
        "The copy is not sound ({findings} findings), so {path} was not kept. Run `waywright archive check` to see "
        "what "
        "is wrong with the original."
    ),
}
