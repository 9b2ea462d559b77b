// Package folder writes files into a folder so that they appear whole or not at
// all, whatever stops the program: an error, a full disk, a signal, the power.
//
// One program writes into a folder at a time; others wait. Everything is written
// and on the disk before anything that was there is touched. Then one of three
// steps makes it count:
//
//   - a folder that is not there yet is written beside its place under another name
//     and renamed;
//   - of one that is there, the whole new state is written beside it, files of
//     others taken along as hard links, and the two folders change places in one
//     step, where the system can;
//   - elsewhere (folders within it, no such step on this system or this disk, the
//     folder above not writable, the folder the working one, which must not be
//     pulled away from under a shell) the files are written into a folder within
//     and moved out of it one by one. The last file goes first and comes back last,
//     so what it vouches for is never half. A list lies beside the files from the
//     moment that they count: [Writer.Settle] and the next run finish by it what a
//     run that was killed began.
//
// What long work has come to so far is kept beside the folder until then ([Writer.Keep]),
// so that work which was stopped goes on where it was.
//
// Files of others are never opened, and stay. Links are replaced and not followed,
// but for one that stands for the folder itself. Nothing but empty folders and
// names that this package wrote is removed. What a run that was killed left is
// named .geocoris-* and the next one names it.
package folder
