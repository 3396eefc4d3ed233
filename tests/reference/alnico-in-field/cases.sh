#!/bin/sh
# Runs every case at two finenesses and prints what alnico-in-field.json holds. Needs FreeFem++; 4.9 was used.
run() {
  for fine in 1 1.5; do
    echo "$2 $3 $4 $5 $6 $7 $8 $9 $fine" >case.txt
    echo "== $1, fineness $fine"
    FreeFem++ -nw rod.edp 2>/dev/null | grep -E '^(triangles|meanB|z )'
  done
}
A5='1.28 50900 43800 3'
A2='0.75 44600 13500 6'
run alnico5_alone $A5 1 0 0 200
run alnico5_against_8kA $A5 1 -8000 0 200
run alnico5_with_4kA $A5 1 4000 0 200
run alnico2_against_8kA $A2 1 -8000 0 200
run alnico5_charge07_against_4kA $A5 0.7 -4000 0 200
run alnico5_on_steel_disc $A5 1 0 1 200
