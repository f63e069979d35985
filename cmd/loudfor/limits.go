package main

// limits is the text of "loudfor help limits": what the model leaves out, and how
// much that may be. Each part of the chain has its own section.
const limits = "What the prediction leaves out, and how large it is." + limitsCar

// limitsCar is the car's part. Its figures were computed for this project: the
// first section against a finite-difference time-domain solve in three
// dimensions, the others as the largest and the rms change over the body styles,
// their three places and 20 to 80 Hz.
const limitsCar = `

The car: an empty box with absorbing walls and holes in them

  Open doors, with the damping known: up to 1.3 dB from a wave solve in three
  dimensions with the leaf at 60 to 90 degrees, 1.7 dB at 30 to 45, 1.0 dB
  without a leaf; 1.8 dB with the hinge elsewhere. (A flat hole in its place would
  be off by 2 to 8 dB.) In the band: the angle (65 degrees assumed; 45 degrees is
  up to 2.1 dB, 1.0 rms), the hinge's distance from the firewall (15 cm are up
  to 3.6 dB, 1.5 rms), the floor's height above the ground (5 cm: 0.3 dB).
  One door alone was not solved: the equations are those of two, whose coupling
  over the roof is 5 % of what the ground gives back, or 0.1 dB.
  A leaf between 90 and 180 degrees was not solved: it goes in a straight line
  to no leaf, up to 4 dB from one end to the other.
  Boot lids and tailgates take the door's form by likeness: between that and a
  flat hole lie up to 2.5 dB (0.7 rms), and the band holds part of it.
  Windows are flat holes: up to 0.7 dB.
  Above 120 Hz nothing of this was solved, and doors become flat holes again.

  Seats and dashboard are left out: with a door open the error grows to 1.9 dB
  at the dash, 1.7 dB at the kick panel and 2.8 dB at the headrest. Each place's
  band is wider by that while a door is open. Shut, the smooth error of the car
  (2.5 dB, one standard deviation) has to hold them.

  Panels (roof, glass, skins) are rigid unless the vehicle file states "panels".
  Shut, a tenth of each giving way changes the level by up to 4 dB (1.1 rms),
  most where they drum, three tenths by up to 11 dB (3.1 rms); with doors or
  windows open by up to 10 and 17 dB. The correction itself is within 0.6 dB of
  a full solve for a tenth, 2 dB for three tenths.

  Damping is assumed until readings tell it, and is in the band. Largest and rms
  change, dB:
                                        shut     windows    doors
    Q of the first mode 3 for 5      4.7  1.7   4.5  2.0   3.4  1.7
    Q of the first mode 8 for 5      4.2  1.3   3.8  1.4   2.4  1.0
    power of frequency 0 for 1       2.4  0.6   6.6  2.0   3.7  1.2
    power of frequency 2 for 1       2.9  0.4   6.1  1.3   3.1  0.9
    pressure zone loses twice that   2.5  0.4   5.2  1.6   3.6  1.3

  The boot counts as half its length of cabin, the walls absorb alike on all
  sides, and the windscreen's rake is a shorter cabin: the smooth error holds
  them, and readings in the car are what brings the whole near 1 dB.`
